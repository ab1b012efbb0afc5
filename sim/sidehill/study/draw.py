"""The design of a study: which values its fields take together, draw by draw."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.study.distribution import Distribution, Unit
from sidehill.study.sample import Sample
from sidehill.study.together import matrix, reordered, turned

Values = Any  # (n,) array of numbers or words

MOST_VALUES = 100_000_000  # draws times fields that are held at once: 800 MB


@dataclass(frozen=True)
class Axis:
    """One thing that varies: a name, and a list of values, a distribution, or a table's column."""

    name: str  # of its column
    form: str  # of `vary.Form`; "table": its values are the rows of a file
    values: tuple[Any, ...]  # of the list or the table; else as of `Distribution`
    field: str = ""  # its name in the study
    weights: tuple[float, ...] = ()
    low: float | None = None  # nothing is drawn beyond
    high: float | None = None

    @property
    def levels(self) -> int:
        """How many values a list has; 1 of what is drawn."""
        return len(self.values) if self.form == "list" else 1

    @property
    def is_drawn(self) -> bool:
        """Whether its values are drawn at random."""
        return self.form not in ("list", "table")

    def at(self, quantile: Unit) -> Values:
        """The values at quantiles: of a list each has an equal share, or that of its weight."""
        if self.form in ("list", "weighted"):
            share = np.cumsum(self.weights or np.ones(len(self.values)))
            place = np.searchsorted(share / share[-1], quantile, side="right")
            return np.asarray(self.values)[np.minimum(place, len(self.values) - 1)]
        return self._distribution.at(quantile)

    @property
    def left(self) -> float:
        """Share of the whole distribution between its ends."""
        return self._distribution.share

    @property
    def _distribution(self) -> Distribution:
        return Distribution(self.form, self.values, self.low, self.high)


@dataclass(frozen=True)
class Design:
    """(n,) values of each axis; draw i is the i-th of every one."""

    axes: tuple[Axis, ...]
    columns: tuple[Values, ...]
    n: int

    def draw(self, i: int) -> dict[str, Any]:
        """The values of one draw, plain, by name."""
        pairs = zip(self.axes, self.columns, strict=True)
        return {axis.name: column[i].item() for axis, column in pairs}


def size(axes: Sequence[Axis], sample: Sample) -> int:
    """How many draws a design will have."""
    d = len(axes)
    if sample.method in ("latin", "sobol"):
        return sample.n * sample.replicates
    if sample.method in ("saltelli", "shapley"):
        return sample.n * (d + (2 if sample.method == "saltelli" else 1))
    return prod(axis.levels for axis in axes) * _rows(axes, sample)


def _rows(axes: Sequence[Axis], sample: Sample) -> int:
    """Draws at every place of a grid."""
    rows = [len(axis.values) for axis in axes if axis.form == "table"]
    if rows:
        return rows[0]
    return sample.n if any(axis.is_drawn for axis in axes) else 1


def design(axes: Sequence[Axis], sample: Sample) -> Design:
    """The draws of some axes. Same axes and sample, same draws.

    Saltelli's scheme, in blocks of n draws: A, B, then A with the first axis of B, A with the
    second, and so on: what `scipy.stats.sobol_indices` calls f_A, f_B and f_AB. Shapley's: n ways
    from A to B, one axis after the other in an order of its own each, in blocks of n: A, then one
    axis of B, two, and at last B (`shapley_orders` says which).

    Raises:
        InputError: too large to be held, or correlations that cannot be.
    """
    n = size(axes, sample)
    if n * max(len(axes), 1) > MOST_VALUES:
        raise InputError(
            f"{n:,} draws of {len(axes)} fields; allowed up to {MOST_VALUES:,} values in all: "
            "make it several studies"
        )
    if not axes:
        return Design((), (), 1)
    make = {"saltelli": _saltelli, "shapley": _shapley, "grid": _grid, "table": _grid}
    return Design(tuple(axes), tuple(make.get(sample.method, _together)(axes, sample)), n)


def _together(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    made = [points(axes, sample, sample.seed + k) for k in range(sample.replicates)]
    return _valued(axes, np.concatenate(made))


def points(axes: Sequence[Axis], sample: Sample, seed: int) -> Unit:
    """(n, d) quantiles of one replicate, correlated as is asked for.

    A Latin hypercube is reordered whole, which keeps it one; the points of a Sobol sequence are
    moved one by one, so that twice the draws begin with these.
    """
    found = (_sobol if sample.method == "sobol" else _latin)(len(axes), sample.n, seed)
    if sample.correlation:
        drawn = [k for k, axis in enumerate(axes) if axis.is_drawn]
        wanted = matrix([axes[k].field for k in drawn], sample.correlation)
        together = turned if sample.method == "sobol" else reordered
        found[:, drawn] = together(found[:, drawn], wanted)
    return found


def _sobol(fields: int, n: int, seed: int) -> Unit:
    from scipy.stats import qmc  # a third of a second, which workers, who draw nothing, are spared

    return np.array(qmc.Sobol(fields, seed=seed).random(n))


def _latin(fields: int, n: int, seed: int) -> Unit:
    from scipy.stats import qmc

    return np.array(qmc.LatinHypercube(fields, seed=seed).random(n))


def _ends(axes: Sequence[Axis], sample: Sample) -> tuple[Unit, Unit]:
    """Two (n, d) samples, each for itself."""
    both = _sobol(2 * len(axes), sample.n, sample.seed)
    return both[:, : len(axes)], both[:, len(axes) :]


def _saltelli(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    first, second = _ends(axes, sample)
    blocks = [first, second]
    for k in range(len(axes)):
        mixed = first.copy()
        mixed[:, k] = second[:, k]
        blocks.append(mixed)
    return _valued(axes, np.concatenate(blocks))


def _shapley(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    here, second = _ends(axes, sample)
    here, rows = here.copy(), np.arange(sample.n)
    blocks = [here.copy()]
    for step in shapley_orders(len(axes), sample).T:
        here[rows, step] = second[rows, step]
        blocks.append(here.copy())
    return _valued(axes, np.concatenate(blocks))


def shapley_orders(fields: int, sample: Sample) -> NDArray[np.int64]:
    """(n, d) in which order each way from A to B takes the axes; twice the n begins with these."""
    random = np.random.default_rng(sample.seed)
    return np.stack([random.permutation(fields) for _ in range(sample.n)])


def _valued(axes: Sequence[Axis], quantiles: Unit) -> list[Values]:
    return [axis.at(quantiles[:, k]) for k, axis in enumerate(axes)]


def _grid(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    """Lists crossed, the last one fastest; what is drawn is drawn anew at no place of it."""
    spread = [axis for axis in axes if axis.is_drawn]
    draws = points(spread, sample, sample.seed) if spread else None
    levels = [axis.levels for axis in axes if axis.form == "list"]
    rows, places = _rows(axes, sample), prod(levels)
    gone = np.unravel_index(np.arange(places * rows) // rows, levels) if levels else ()
    at, quantiles = iter(gone), iter(() if draws is None else draws.T)
    columns: list[Values] = []
    for axis in axes:
        if axis.form == "list":
            columns.append(np.array(axis.values)[next(at)])
        elif axis.form == "table":
            columns.append(np.tile(np.array(axis.values), places))
        else:
            columns.append(np.tile(axis.at(next(quantiles)), places))
    return columns
