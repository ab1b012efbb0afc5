"""The ways to make draws of points: everything at once, two samples mixed, lists crossed."""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sidehill.study.axis import Axis, Values
from sidehill.study.distribution import Unit
from sidehill.study.points import Latin, Points, Sobol
from sidehill.study.sample import Sample
from sidehill.study.together import matrix, reordered, turned


def rows_of(axes: Sequence[Axis], sample: Sample) -> int:
    """Draws at every place of a grid, or rows of a table."""
    rows = [len(axis.values) for axis in axes if axis.form == "table"]
    if rows:
        return rows[0]
    return sample.n if any(axis.is_drawn for axis in axes) else 1


def points(axes: Sequence[Axis], sample: Sample, seed: int) -> Points:
    """Quantiles of one replicate, correlated as is asked for.

    A Latin hypercube is reordered whole, which keeps it one; the points of a Sobol sequence are
    moved one by one, so that twice the draws begin with these.
    """
    drawn = [k for k, axis in enumerate(axes) if axis.is_drawn]
    wanted = None
    if sample.correlation:
        wanted = matrix([axes[k].field for k in drawn], sample.correlation)
    together = turned if sample.method == "sobol" else reordered

    def correlated(found: Unit) -> Unit:
        if wanted is not None:
            found[:, drawn] = together(found[:, drawn], wanted)
        return found

    if sample.method == "sobol":
        return Sobol(len(axes), seed, correlated)
    return Latin(len(axes), sample.n, seed, correlated)


class Scheme(ABC):
    """How draws are made."""

    def __init__(self, axes: Sequence[Axis], sample: Sample) -> None:
        self.axes, self.sample = axes, sample

    @abstractmethod
    def values(self, first: int, last: int) -> list[Values]:
        """(last - first,) values of each axis."""


class Blocks(Scheme):
    """Draws made of points, in blocks of as many as there are points."""

    @abstractmethod
    def quantiles(self, block: int, first: int, last: int) -> Unit:
        """(last - first, d) of the draws of a block, counted from its first."""

    def values(self, first: int, last: int) -> list[Values]:
        n, found = self.sample.n, []
        for block in range(first // n, -(-last // n)):
            start = block * n
            found.append(self.quantiles(block, max(first - start, 0), min(last - start, n)))
        quantiles = np.concatenate(found)
        return [axis.at(quantiles[:, k]) for k, axis in enumerate(self.axes)]


class Together(Blocks):
    """Everything at once; a block a replicate, of the next seed each."""

    def __init__(self, axes: Sequence[Axis], sample: Sample) -> None:
        super().__init__(axes, sample)
        self._points = lru_cache(1)(lambda block: points(axes, sample, sample.seed + block))
        self._points(0)  # what cannot be is refused now

    def quantiles(self, block: int, first: int, last: int) -> Unit:
        return self._points(block).rows(first, last)


class Ends(Blocks):
    """Of two samples A and B, each for itself, and what is mixed of them."""

    def __init__(self, axes: Sequence[Axis], sample: Sample) -> None:
        super().__init__(axes, sample)
        self._both = Sobol(2 * len(axes), sample.seed)

    def ends(self, first: int, last: int) -> tuple[Unit, Unit]:
        """(last - first, d) of A and of B."""
        both = self._both.rows(first, last)
        return both[:, : len(self.axes)].copy(), both[:, len(self.axes) :]


class Saltelli(Ends):
    """Blocks: A, B, then A with the first axis of B, A with the second, and so on."""

    def quantiles(self, block: int, first: int, last: int) -> Unit:
        here, second = self.ends(first, last)
        if block == 1:
            return second
        if block > 1:
            here[:, block - 2] = second[:, block - 2]
        return here


class Shapley(Ends):
    """Blocks: A, then one axis of B, two, and at last B; in an order of its own each."""

    def __init__(self, axes: Sequence[Axis], sample: Sample) -> None:
        super().__init__(axes, sample)
        self._orders = shapley_orders(len(axes), sample)

    def quantiles(self, block: int, first: int, last: int) -> Unit:
        here, second = self.ends(first, last)
        rows = np.arange(last - first)
        for step in self._orders[first:last, :block].T:
            here[rows, step] = second[rows, step]
        return here


def shapley_orders(fields: int, sample: Sample) -> NDArray[np.int16]:
    """(n, d) in which order each way from A to B takes the axes; twice the n begins with these."""
    random = np.random.default_rng(sample.seed)
    found = np.empty((sample.n, fields), dtype=np.int16)
    for row in found:
        row[:] = random.permutation(fields)
    return found


class Grid(Scheme):
    """Lists crossed, the last one fastest; what is drawn is drawn anew at no place of it."""

    def __init__(self, axes: Sequence[Axis], sample: Sample) -> None:
        super().__init__(axes, sample)
        self.n = rows_of(axes, sample)
        self._given = {axis.name: np.array(axis.values) for axis in axes if not axis.is_drawn}
        self._levels = [axis.levels for axis in axes if axis.form == "list"]
        spread = [axis for axis in axes if axis.is_drawn]
        self._points = points(spread, sample, sample.seed).rows(0, self.n) if spread else None

    def values(self, first: int, last: int) -> list[Values]:
        places, rows = np.divmod(np.arange(first, last), self.n)
        at = iter(np.unravel_index(places, self._levels) if self._levels else ())
        quantiles = iter(() if self._points is None else self._points[rows].T)
        columns: list[Values] = []
        for axis in self.axes:
            if axis.form == "list":
                columns.append(self._given[axis.name][next(at)])
            elif axis.form == "table":
                columns.append(self._given[axis.name][rows])
            else:
                columns.append(axis.at(next(quantiles)))
        return columns


SCHEMES: dict[str, type[Scheme]] = {
    **{"grid": Grid, "table": Grid, "latin": Together, "sobol": Together},
    **{"saltelli": Saltelli, "shapley": Shapley},
}
