"""Where draws come from: points spread evenly over the unit cube, a block of them at a time."""

from collections.abc import Callable
from functools import lru_cache
from typing import Protocol

import numpy as np

from sidehill.study.distribution import Unit

BLOCK = 4096  # points made at once: a power of 2, as a Sobol sequence asks
_HELD = 2  # blocks that are held


class Points(Protocol):
    """Points of one sample."""

    def rows(self, first: int, last: int) -> Unit:
        """(last - first, d) of them."""


class Sobol:
    """A scrambled Sobol sequence. Made in order nothing is held but a block or two; going back
    begins anew. Every block is made whole, so that the same point has the same bits always."""

    def __init__(self, fields: int, seed: int, move: Callable[[Unit], Unit] = lambda p: p) -> None:
        self._fields, self._seed, self._move = fields, seed, move
        self._begin()
        self._block = lru_cache(_HELD)(self._made)

    def rows(self, first: int, last: int) -> Unit:
        """(last - first, d) points."""
        start = first // BLOCK
        found = np.concatenate([self._block(k) for k in range(start, -(-last // BLOCK))])
        return found[first - start * BLOCK : last - start * BLOCK]

    def _begin(self) -> None:
        from scipy.stats import qmc  # a third of a second, which workers, who draw nothing, save

        self._sequence, self._next = qmc.Sobol(self._fields, seed=self._seed), 0

    def _made(self, number: int) -> Unit:
        if number < self._next:
            self._begin()
        if number > self._next:
            self._sequence.fast_forward((number - self._next) * BLOCK)
        self._next = number + 1
        return self._move(np.array(self._sequence.random(BLOCK)))


class Latin:
    """A Latin hypercube, which is one as a whole only, and so is held."""

    def __init__(self, fields: int, n: int, seed: int, move: Callable[[Unit], Unit]) -> None:
        from scipy.stats import qmc

        self._points = move(np.array(qmc.LatinHypercube(fields, seed=seed).random(n)))

    def rows(self, first: int, last: int) -> Unit:
        """(last - first, d) points."""
        return self._points[first:last]
