"""Correlated draws: quantiles of fields that go together, each still even by itself."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.study.sample import Correlation

Array = NDArray[np.float64]
_SHY = 2.0**-54  # keeps a quantile off 0, which has no normal score


def matrix(names: Sequence[str], wanted: Sequence[Correlation]) -> Array:
    """(k, k) product-moment correlation of normal scores that has these rank correlations.

    For normal variables r = 2 sin(pi r_s / 6) (Pearson 1907; from memory).

    Raises:
        InputError: a field that is not drawn, or correlations that no draws can have together.
    """
    found = np.eye(len(names))
    for one, other, rank in wanted:
        for name in (one, other):
            if name not in names:
                drawn = ", ".join(names) or "none"
                raise InputError(f'sample.correlation: "{name}" is not drawn; drawn are: {drawn}')
        i, j = names.index(one), names.index(other)
        found[i, j] = found[j, i] = 2.0 * np.sin(np.pi * rank / 6.0)
    if np.linalg.eigvalsh(found)[0] <= 1e-9:
        raise InputError("sample.correlation: no draws can have all of these together")
    return found


def reordered(points: Array, wanted: Array) -> Array:
    """(n, k) points, the values of every column put in another order that has the correlation.

    Iman and Conover, Commun. Statist. B11(3), 1982. Every column keeps its values, so that a
    Latin hypercube stays one; which draws go together hangs on all of them.
    """
    from scipy.special import ndtri  # takes long to load, and few studies are correlated

    n = len(points)
    ranks = np.argsort(np.argsort(points, axis=0), axis=0)
    scores = ndtri((ranks + 1.0) / (n + 1.0))
    if n <= points.shape[1] or np.linalg.matrix_rank(scores) < points.shape[1]:
        raise InputError(f"sample.n: {n} draws are too few to be correlated; give more")
    own = np.linalg.cholesky(np.corrcoef(scores, rowvar=False))
    target = scores @ np.linalg.inv(own).T @ np.linalg.cholesky(wanted).T
    order = np.argsort(np.argsort(target, axis=0), axis=0)
    return np.take_along_axis(np.sort(points, axis=0), order, axis=0)


def turned(points: Array, wanted: Array) -> Array:
    """(n, k) points, each moved by itself (a normal copula): twice the draws begin with these."""
    from scipy.special import ndtr, ndtri

    scores = ndtri(np.clip(points, _SHY, 1.0 - 2.0**-53))
    return np.asarray(ndtr(scores @ np.linalg.cholesky(wanted).T))
