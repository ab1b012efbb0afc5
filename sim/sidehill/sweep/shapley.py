"""What a spread result is due to: Shapley effects, which share out what fields do together."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sidehill.sweep.sensitivity import LEVEL, Array, check_varies, known_sets, resampled


@dataclass(frozen=True)
class Effect:
    """A field's Shapley effect, a share of the result's variance; all of them add up to 1."""

    field: str
    share: float
    low: float
    high: float

    @property
    def is_told(self) -> bool:
        """Whether the draws tell anything: a share whose interval is wider than 1 is not known."""
        return self.high - self.low <= 1.0


@dataclass(frozen=True)
class Shapley:
    """Effects of one result, and the ways that they are computed of."""

    effects: tuple[Effect, ...]
    used: int
    unknown: int  # ways with a result that is not known: left out whole
    sets: int
    apart: int = 0  # ways on which a run could not start: left out too
    level: float = LEVEL


def shapley(
    values: Array,
    fields: Sequence[str],
    orders: NDArray[np.integer[Any]],
    started: NDArray[np.bool_] | None = None,
) -> Shapley:
    """Shapley effects of independent fields (Owen 2014) by ways from one draw to another, one
    field after the other in a random order (Goda, J. Comput. Appl. Math. 391, 2021; from memory).

    What a step does to half the mean square change since the way began is what the field adds to
    the total index of those that were changed before it.

    Args:
        values: (n (d + 1),) result of every draw of a `shapley` design, in its order; NaN: not
            known.
        orders: (n, d) of `scheme.shapley_orders`.
        started: of every draw.

    Raises:
        InputError: too few ways known, or a result that does not vary.
    """
    d = len(fields)
    which, unknown, apart = known_sets(values, d + 1, started)
    kept = values.reshape(d + 1, -1)[:, which]
    check_varies(kept[[0, -1]])
    steps = 0.5 * np.diff((kept - kept[0]) ** 2, axis=0)  # (d, n) by place in the order
    added = np.zeros_like(steps)  # by field
    np.put_along_axis(added, orders[which].T, steps, axis=0)
    best, (low, high) = _shares(added), _interval(added)
    effects = tuple(
        Effect(name, *(float(part[k]) for part in (best, low, high)))
        for k, name in enumerate(fields)
    )
    return Shapley(effects, kept.shape[1], unknown, len(orders), apart)


def _shares(added: Array) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):  # ways drawn again may not vary: unknown
        return np.asarray(added.sum(axis=1) / added.sum())


def _interval(added: Array) -> tuple[Array, Array]:
    """(d,) ends, the ways resampled."""
    return resampled(added.shape[1], lambda drawn: _shares(added[:, drawn]))
