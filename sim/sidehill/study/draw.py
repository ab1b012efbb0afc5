"""The design of a study: which values its fields take together, draw by draw."""

from collections.abc import Sequence
from functools import lru_cache
from math import prod
from typing import Any

from sidehill.files.errors import InputError
from sidehill.study.axis import Axis, Values
from sidehill.study.points import BLOCK
from sidehill.study.sample import Sample
from sidehill.study.scheme import SCHEMES, rows_of

MOST_VALUES = 100_000_000  # draws times fields of what can only be held as a whole: 800 MB


class Design:
    """Draws by their number, made a block at a time and not held."""

    def __init__(self, axes: Sequence[Axis], sample: Sample, n: int) -> None:
        self.axes, self.n = tuple(axes), n
        self._scheme = SCHEMES[sample.method if axes else "grid"](self.axes, sample)
        self._block = lru_cache(1)(self._made)

    def values(self, first: int, last: int) -> list[Values]:
        """(last - first,) values of each axis."""
        return self._scheme.values(first, last)

    def draw(self, i: int) -> dict[str, Any]:
        """The values of one draw, plain, by name."""
        columns, place = self._block(i // BLOCK), i % BLOCK
        return {axis.name: c[place] for axis, c in zip(self.axes, columns, strict=True)}

    def _made(self, number: int) -> list[list[Any]]:
        first = number * BLOCK
        return [column.tolist() for column in self.values(first, min(first + BLOCK, self.n))]


def size(axes: Sequence[Axis], sample: Sample) -> int:
    """How many draws a design will have."""
    d = len(axes)
    if sample.method in ("latin", "sobol"):
        return sample.n * sample.replicates
    if sample.method in ("saltelli", "shapley"):
        return sample.n * (d + (2 if sample.method == "saltelli" else 1))
    return prod(axis.levels for axis in axes) * rows_of(axes, sample)


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
    held = sample.n * max(len(axes), 1) if sample.method in ("latin", "grid") else 0
    if held > MOST_VALUES:
        raise InputError(
            f"a Latin hypercube of {sample.n:,} draws of {len(axes)} fields is held as a whole; "
            f"allowed up to {MOST_VALUES:,} values in all: take sobol, or make it several studies"
        )
    return Design(axes, sample, n if axes else 1)
