"""The course on the map: path length and offset, and back."""

from math import cos, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sidehill.kernels.layout import Vector
from sidehill.scenario.file import Scenario

MARGIN = 4.0  # [m] around the path, over which the ground is laid out


class Piece(NamedTuple):
    """A piece of the path, straight or on a circle; where it begins."""

    at: float  # [m] path length
    x: float  # [m]
    y: float  # [m]
    heading: float  # [rad]
    bend: float  # [1/m] curvature, left positive

    def point(self, along: float, left: float) -> tuple[float, float, float]:
        """World x, y [m] and heading [rad] at a path length and an offset to the left [m]."""
        ahead, aside, turn = along - self.at, 0.0, 0.0
        if self.bend != 0.0:
            turn = ahead * self.bend
            ahead, aside = sin(turn) / self.bend, (1.0 - cos(turn)) / self.bend
        cosine, sine = cos(self.heading), sin(self.heading)
        x, y = self.x + ahead * cosine - aside * sine, self.y + ahead * sine + aside * cosine
        turn += self.heading
        return x - left * sin(turn), y + left * cos(turn), turn

    def seen(self, x: Vector, y: Vector) -> tuple[Vector, Vector]:
        """[m] ahead and to the left of where it begins, of points; arrays of any one shape."""
        cosine, sine = np.cos(self.heading), np.sin(self.heading)
        dx, dy = x - self.x, y - self.y
        return dx * cosine + dy * sine, dy * cosine - dx * sine

    def nearest(self, ahead: Vector, aside: Vector) -> tuple[Vector, Vector]:
        """Path length and offset to the left [m] of points seen from where it begins."""
        if self.bend == 0.0:
            return self.at + ahead, aside
        side, radius = np.sign(self.bend), 1.0 / abs(self.bend)
        dx, dy = ahead, radius - side * aside  # from the centre of the turn
        turned = np.arctan2(dx, dy)
        past = self.at + radius * np.where(turned < 0, turned + 2 * np.pi, turned)
        return past, side * (radius - np.hypot(dx, dy))

    def is_on(self, ahead: Vector, aside: Vector) -> NDArray[np.bool_]:
        """Whether points are past its beginning; in a turn also beyond its centre."""
        if self.bend == 0.0:
            return np.greater(ahead, 0.0)
        side, radius = np.sign(self.bend), 1.0 / abs(self.bend)
        turned = np.arctan2(ahead, radius - side * aside)
        return np.asarray((ahead > 0.0) | (turned > np.pi / 2))


class Way(NamedTuple):
    """Where the path lies: straight on along +x, then in the pieces of the course."""

    pieces: tuple[Piece, ...]  # the first is straight, from 0 on
    length: float  # [m]

    def point(self, along: float, left: float) -> tuple[float, float, float]:
        """World x, y [m] and heading [rad] at a path length and an offset to the left [m]."""
        begun = [piece for piece in self.pieces if piece.at < along]
        return (begun or self.pieces)[-1 if begun else 0].point(along, left)

    def nearest(self, x: Vector, y: Vector) -> tuple[Vector, Vector]:
        """Path length and offset to the left [m] of points; arrays of any one shape."""
        along, left = x, y
        reached = np.ones(np.shape(x), dtype=bool)
        for piece in self.pieces[1:]:
            seen = piece.seen(x, y)
            reached = reached & piece.is_on(*seen)
            found = piece.nearest(*seen)
            along, left = np.where(reached, found[0], along), np.where(reached, found[1], left)
        return along, left

    def box(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """((x low, x high), (y low, y high)) [m] of the path with a margin around it."""
        points = np.array([self.point(s, 0.0)[:2] for s in np.linspace(0.0, self.length, 200)])
        low, high = points.min(axis=0) - MARGIN, points.max(axis=0) + MARGIN
        return (float(low[0]), float(high[0])), (float(low[1]), float(high[1]))


def way(scenario: Scenario) -> Way:
    """The way that a scenario's course goes."""
    pieces = [Piece(0.0, 0.0, 0.0, 0.0, 0.0)]
    for at, curvature in scenario.course.curvatures:
        x, y, heading = pieces[-1].point(at, 0.0)
        pieces.append(Piece(at, x, y, heading, curvature * scenario.ground.uphill))
    return Way(tuple(pieces), scenario.course.length or 0.0)


def path_point(scenario: Scenario, along: float, left: float) -> tuple[float, float, float]:
    """World x, y [m] and heading [rad] at a path length and an offset to the left [m]."""
    return way(scenario).point(along, left)
