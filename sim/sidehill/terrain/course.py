"""The course on the map: path length and offset, and back."""

from math import cos, sin
from typing import NamedTuple

import numpy as np

from sidehill.kernels.layout import Vector
from sidehill.scenario.file import Scenario

MARGIN = 4.0  # [m] around the path, over which the ground is laid out


def turn_curvature(scenario: Scenario) -> float:
    """[1/m] of the course's turn, left positive; 0 on a straight course."""
    course = scenario.course
    if course.radius is None:
        return 0.0
    return course.turn * scenario.ground.uphill / course.radius


class Way(NamedTuple):
    """Where the path lies: straight on along +x, then a turn for the rest of it."""

    bend: float  # [1/m] of the turn, left positive; 0 on a straight course
    start: float  # [m] path length at which it begins
    length: float  # [m]

    def point(self, along: float, left: float) -> tuple[float, float, float]:
        """World x, y [m] and heading [rad] at a path length and an offset to the left [m]."""
        bend, start = self.bend, self.start
        if bend == 0.0 or along <= start:
            return along, left, 0.0
        turn = (along - start) * bend
        x, y = start + sin(turn) / bend, (1.0 - cos(turn)) / bend
        return x - left * sin(turn), y + left * cos(turn), turn

    def nearest(self, x: Vector, y: Vector) -> tuple[Vector, Vector]:
        """Path length and offset to the left [m] of points; arrays of any one shape."""
        if self.bend == 0.0:
            return x, y
        side, radius = np.sign(self.bend), 1.0 / abs(self.bend)
        dx, dy = x - self.start, radius - side * y  # from the centre of the turn
        turned = np.arctan2(dx, dy)
        on_turn = (dx > 0.0) | (turned > np.pi / 2)
        past = self.start + radius * np.where(turned < 0, turned + 2 * np.pi, turned)
        return np.where(on_turn, past, x), np.where(on_turn, side * (radius - np.hypot(dx, dy)), y)

    def box(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """((x low, x high), (y low, y high)) [m] of the path with a margin around it."""
        points = np.array([self.point(s, 0.0)[:2] for s in np.linspace(0.0, self.length, 200)])
        low, high = points.min(axis=0) - MARGIN, points.max(axis=0) + MARGIN
        return (float(low[0]), float(high[0])), (float(low[1]), float(high[1]))


def way(scenario: Scenario) -> Way:
    """The way that a scenario's course goes."""
    course = scenario.course
    return Way(turn_curvature(scenario), course.after or 0.0, course.length or 0.0)


def path_point(scenario: Scenario, along: float, left: float) -> tuple[float, float, float]:
    """World x, y [m] and heading [rad] at a path length and an offset to the left [m]."""
    return way(scenario).point(along, left)
