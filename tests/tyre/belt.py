"""A fine model of a tyre of the tests' own: a belt under tension on a bed of radial springs.

Plane, at rest, in plain numpy. No measured curve of a tractor tyre over an obstacle could be
obtained, so this stands in for one. Between the belt's tension and none lies what a tyre can do:
an inflated ring carries the tension pressure x width x radius (textbook hoop stress); independent
spokes carry none. The springs are set once, on flat ground at the wheel's own load.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.linalg import solve_banded
from scipy.optimize import brentq

from sidehill.kernels.layout import Vector

Profile = Callable[[Vector], Vector]  # [m] height of the ground at places [m] along the path

SPOKES = np.radians(np.linspace(-75.0, 75.0, 201))  # from straight down
SHARES = np.linspace(1.0, 0.45, 71)  # of the radius, where a spoke is looked at
MOST_TURNS = 100  # of the search for where the belt touches


@dataclass(frozen=True)
class Push:
    """What the hub feels: how deep on flat ground it would push as hard, and which way."""

    depth: float  # [m]
    ahead: float  # of the unit vector of the force
    up: float


@dataclass(frozen=True)
class Belt:
    """A tyre of that radius [m], which stands on flat ground as a spring of that stiffness [N/m]
    does at that load [N]; tension [N] of its belt."""

    radius: float
    stiffness: float
    load: float
    tension: float

    def push(self, ground: Profile, x: float, z: float) -> Push | None:
        """At the hub's place [m]; None in the air."""
        force = self._force(self.bed, self.sunk(ground, x, z))
        size = float(np.hypot(*force))
        if size == 0.0:
            return None
        depth = float(np.interp(size, self._curve[1], self._curve[0]))
        return Push(depth, force[0] / size, force[1] / size)

    def sunk(self, ground: Profile, x: float, z: float) -> Vector:
        """(n,) [m] how far the ground reaches up each spoke; negative where it does not."""
        reach = self.radius * SHARES[:, None]
        below = ground(x + reach * np.sin(SPOKES)) - (z - reach * np.cos(SPOKES))
        last = len(SHARES) - 1 - np.argmax(below[::-1] > 0.0, axis=0)  # nearest to the hub
        column = np.arange(len(SPOKES))
        met = (below > 0.0).any(axis=0)
        after = np.minimum(last + 1, len(SHARES) - 1)
        inside, outside = below[last, column], below[after, column]
        share = np.where(after > last, inside / np.where(after > last, inside - outside, 1.0), 0.0)
        depth = self.radius * (1.0 - SHARES[last] + share * (SHARES[last] - SHARES[after]))
        return np.where(met, depth, -1e-3)

    @cached_property
    def bed(self) -> float:
        """[N/m^2] of the radial springs, by length of the rim."""
        sink = self.load / self.stiffness

        def lacks(log: float) -> float:
            return float(np.hypot(*self._force(10.0**log, self._flat(sink)))) - self.load

        return float(10.0 ** brentq(lacks, 3.0, 8.0))

    @cached_property
    def _curve(self) -> tuple[Vector, Vector]:
        """Depths [m] on flat ground and what they push with [N]."""
        depths = np.linspace(0.0, 0.35 * self.radius, 160)
        return depths, np.array([np.hypot(*self._force(self.bed, self._flat(d))) for d in depths])

    def _flat(self, depth: float) -> Vector:
        return np.asarray(self.radius - (self.radius - depth) / np.cos(SPOKES))

    def _force(self, bed: float, sunk: Vector) -> tuple[float, float]:
        """[N] ahead and up, on the hub."""
        if sunk.max() <= 0.0:
            return 0.0, 0.0
        step = SPOKES[1] - SPOKES[0]
        pushed = bed * self.radius * step * self._deflection(bed, sunk)
        return -float(pushed @ np.sin(SPOKES)), float(pushed @ np.cos(SPOKES))

    def _deflection(self, bed: float, sunk: Vector) -> Vector:
        """(n,) [m] inwards, at least as far as the ground reaches: the belt lies on the ground
        where that pushes it, and hangs free elsewhere."""
        count = len(sunk)
        pull = self.tension / (self.radius * (SPOKES[1] - SPOKES[0])) ** 2
        touches = sunk > 0.0
        for _ in range(MOST_TURNS):
            bands = np.zeros((3, count))
            bands[0, 1:] = np.where(touches[:-1], 0.0, -pull)
            bands[1] = np.where(touches, 1.0, bed + 2.0 * pull)
            bands[2, :-1] = np.where(touches[1:], 0.0, -pull)
            found = solve_banded((1, 1), bands, np.where(touches, sunk, 0.0))
            wide = np.pad(found, 1)
            pressed = bed * found - pull * (wide[2:] - 2.0 * found + wide[:-2])
            now = np.where(touches, pressed > 0.0, found < sunk)
            if (now == touches).all():
                return np.maximum(found, 0.0)
            touches = now
        raise ArithmeticError("where the belt touches was not found")
