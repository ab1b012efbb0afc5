"""What a spread result is due to: Sobol indices of the fields that vary, with intervals."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import bootstrap, sobol_indices

from sidehill.files.errors import InputError

LEVEL = 0.95
SEED = 11  # of the bootstrap
RESAMPLES = 999
FEWEST = 16  # sets of draws that indices are computed of

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Index:
    """The share of a result's variance that a field is behind; ends of its interval beside it."""

    field: str
    first: float  # by the field alone
    first_low: float
    first_high: float
    total: float  # with all that it does together with others
    total_low: float
    total_high: float

    @property
    def is_told(self) -> bool:
        """Whether the draws tell anything: a share whose interval is wider than 1 is not known."""
        widths = (self.first_high - self.first_low, self.total_high - self.total_low)
        return max(widths) <= 1.0


@dataclass(frozen=True)
class Sensitivity:
    """Indices of one result, and the sets of draws (one row of A, B and every A with B)."""

    indices: tuple[Index, ...]
    used: int
    unknown: int  # sets with a result that is not known: left out whole
    sets: int
    apart: int = 0  # sets in which a run could not start: left out too, and an outcome of its own
    level: float = LEVEL


def sensitivity(
    values: Array, fields: Sequence[str], started: NDArray[np.bool_] | None = None
) -> Sensitivity:
    """First and total order Sobol indices; Saltelli's estimators, bootstrapped intervals.

    Args:
        values: (n (d + 2),) result of every draw of a `saltelli` design of d fields, in its
            order; NaN where it is not known. A set that holds one is left out whole, and of
            what remains the first power of two is used, as the sequence asks.
        started: of every draw; a set with one that could not start is left out, and counted apart.

    Raises:
        InputError: one field only, too few sets of draws known, or a result that does not vary.
    """
    d = len(fields)
    which, unknown, apart = known_sets(values, d + 2, started)
    kept = values.reshape(d + 2, -1)[:, which]
    if d < 2:
        raise InputError("sensitivity: needs two or more fields; one alone is behind all of it")
    check_varies(kept[:2])
    sets, used = len(values) // (d + 2), kept.shape[1]
    best = _indices(kept)
    low, high = _interval(kept)
    found = (
        Index(field, *(float(a[order, k]) for order in (0, 1) for a in (best, low, high)))
        for k, field in enumerate(fields)
    )
    return Sensitivity(tuple(found), used, unknown, sets, apart)


def known_sets(
    values: Array, runs: int, started: NDArray[np.bool_] | None = None
) -> tuple[NDArray[np.intp], int, int]:
    """(n,) places of the sets that are known whole, the first power of two of them; how many others
    are not known, and in how many a run could not start.

    Raises:
        InputError: too few are known.
    """
    blocks = values.reshape(runs, -1)
    stood = np.ones(len(values), bool) if started is None else started
    apart = ~stood.reshape(runs, -1).all(axis=0)
    unknown = np.isnan(blocks).any(axis=0) & ~apart
    known = np.flatnonzero(~(apart | unknown))
    if len(known) < FEWEST:
        raise InputError(
            f"sensitivity: {len(known)} of {blocks.shape[1]} sets of draws are known in all "
            f"their {runs} runs ({int(apart.sum())} could not start); needed: {FEWEST} or more"
        )
    used = 1 << (len(known).bit_length() - 1)
    return known[:used], int(unknown.sum()), int(apart.sum())


def check_varies(values: Array) -> None:
    """Results (2, n) of independent draws must differ, an event not be too rare."""
    found, counts = np.unique(values, return_counts=True)
    if len(found) == 1:
        raise InputError("sensitivity: the same in every draw, so nothing is behind it")
    if len(found) == 2 and min(counts) < FEWEST:
        raise InputError(
            f"sensitivity: {min(counts)} of {values.size} draws differ from the rest, too few to "
            f"say what is behind it; needed: {FEWEST} or more"
        )


def _indices(blocks: Array) -> Array:
    """(2, d) first and total order of results (d + 2, n)."""
    n = blocks.shape[1]
    parts = {"f_A": blocks[0], "f_B": blocks[1], "f_AB": blocks[2:, None, :]}
    found = sobol_indices(func=parts, n=n)
    return np.stack([np.atleast_1d(found.first_order), np.atleast_1d(found.total_order)])


def _interval(blocks: Array) -> tuple[Array, Array]:
    """(2, d) lower and upper ends, the sets of draws resampled."""
    return resampled(blocks.shape[1], lambda drawn: _indices(blocks[:, drawn]))


def resampled(count: int, answer: Callable[[Array], Array]) -> tuple[Array, Array]:
    """Lower and upper ends of an answer, its draws resampled.

    scipy's own `bootstrap` of indices takes no random state, so that its intervals differ from
    run to run: the same is done here with one.

    Args:
        answer: of the numbers of the draws, `count` of them, some more than once.
    """
    found = bootstrap(
        (np.arange(count),),
        answer,
        confidence_level=LEVEL,
        n_resamples=RESAMPLES,
        method="percentile",
        vectorized=False,
        random_state=np.random.default_rng(SEED),
    )
    ends = found.confidence_interval
    return np.asarray(ends.low), np.asarray(ends.high)
