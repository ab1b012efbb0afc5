"""The options that no other one beats on every count."""

import numpy as np
from numpy.typing import NDArray

from sidehill.statics.vector import Array


def pareto(figures: Array) -> NDArray[np.bool_]:
    """(n,) True where no other row is at least as good in all columns and better in one.

    Args:
        figures: (n, k), more is better; a row with NaN is unknown: never in the set, beats none.
    """
    known = ~np.isnan(figures).any(axis=1)
    rivals, own = figures[:, None, :], figures[None, :, :]
    with np.errstate(invalid="ignore"):
        beats = (rivals >= own).all(axis=2) & (rivals > own).any(axis=2)
    return np.asarray(known & ~beats.any(axis=0), dtype=np.bool_)
