"""The design of a study: which values its fields take together, draw by draw."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from sidehill.files.errors import InputError
from sidehill.study.plan import Sample

Unit = NDArray[np.float64]  # of [0, 1)
Values = Any  # (n,) array of numbers or words

MOST_VALUES = 100_000_000  # draws times fields that are held at once: 800 MB
_SHY = 2.0**-54  # keeps a quantile off 0, where a normal distribution has no value


@dataclass(frozen=True)
class Axis:
    """One thing that varies: a name, and a list of values or a distribution."""

    name: str  # of its column
    form: Literal["list", "normal", "uniform"]
    values: tuple[Any, ...]  # of the list; mean and spread; low and high

    @property
    def levels(self) -> int:
        """How many values a list has; 1 for a distribution, of which draws are made."""
        return len(self.values) if self.form == "list" else 1

    def at(self, quantile: Unit) -> Values:
        """The values at quantiles: of a list each has an equal share."""
        if self.form == "list":
            place = np.minimum((quantile * len(self.values)).astype(int), len(self.values) - 1)
            return np.asarray(self.values)[place]
        first, second = self.values
        if self.form == "uniform":
            return np.asarray(first + (second - first) * quantile)
        return np.asarray(first + second * ndtri(np.maximum(quantile, _SHY)))


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
    if sample.method == "saltelli":
        return sample.n * (len(axes) + 2)
    if sample.method != "grid":
        return sample.n
    spread = any(axis.form != "list" for axis in axes)
    return prod(axis.levels for axis in axes) * (sample.n if spread else 1)


def design(axes: Sequence[Axis], sample: Sample) -> Design:
    """The draws of some axes. Same axes and sample, same draws.

    Saltelli's scheme, in blocks of n draws: A, B, then A with the first axis of B, A with the
    second, and so on: what `scipy.stats.sobol_indices` calls f_A, f_B and f_AB.

    Raises:
        InputError: too large to be held.
    """
    n = size(axes, sample)
    if n * max(len(axes), 1) > MOST_VALUES:
        raise InputError(
            f"{n:,} draws of {len(axes)} fields; allowed up to {MOST_VALUES:,} values in all: "
            "make it several studies"
        )
    if not axes:
        return Design((), (), 1)
    quantiles = _saltelli if sample.method == "saltelli" else _together
    found = _grid(axes, sample) if sample.method == "grid" else quantiles(axes, sample)
    return Design(tuple(axes), tuple(found), n)


def _together(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    points = (_sobol if sample.method == "sobol" else _latin)(len(axes), sample)
    return [axis.at(points[:, k]) for k, axis in enumerate(axes)]


def _sobol(fields: int, sample: Sample) -> Unit:
    from scipy.stats import qmc  # a third of a second, which workers, who draw nothing, are spared

    return np.asarray(qmc.Sobol(fields, seed=sample.seed).random(sample.n))


def _latin(fields: int, sample: Sample) -> Unit:
    from scipy.stats import qmc

    return np.asarray(qmc.LatinHypercube(fields, seed=sample.seed).random(sample.n))


def _saltelli(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    d = len(axes)
    points = _sobol(2 * d, sample)
    first, second = points[:, :d], points[:, d:]
    blocks = [first, second]
    for k in range(d):
        mixed = first.copy()
        mixed[:, k] = second[:, k]
        blocks.append(mixed)
    together = np.concatenate(blocks)
    return [axis.at(together[:, k]) for k, axis in enumerate(axes)]


def _grid(axes: Sequence[Axis], sample: Sample) -> list[Values]:
    """Lists crossed, the last one fastest; distributions are drawn anew at no place of it."""
    spread = [axis for axis in axes if axis.form != "list"]
    draws = _latin(len(spread), sample) if spread else np.empty((1, 0))
    levels = [axis.levels for axis in axes if axis.form == "list"]
    total = prod(levels) * len(draws)
    places = iter(np.unravel_index(np.arange(total) // len(draws), levels) if levels else ())
    quantiles = iter(draws.T)
    columns: list[Values] = []
    for axis in axes:
        if axis.form == "list":
            columns.append(np.array(axis.values)[next(places)])
        else:
            columns.append(np.tile(axis.at(next(quantiles)), prod(levels)))
    return columns
