"""A coloured primitive on a link: what a picture of the machine is made of."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Point = Sequence[float] | Array

LEFT, RIGHT = 1.0, -1.0
SIDES = {"left": LEFT, "right": RIGHT}


@dataclass(frozen=True)
class Box:
    """A box about its centre."""

    size: tuple[float, float, float]  # [m] whole edges along x, y, z


@dataclass(frozen=True)
class Cylinder:
    """A cylinder about its centre, axis along z."""

    radius: float  # [m]
    length: float  # [m]


@dataclass(frozen=True)
class Sphere:
    """A sphere about its centre."""

    radius: float  # [m]


Shape = Box | Cylinder | Sphere


@dataclass(frozen=True)
class Piece:
    """One primitive of one colour, in the frame of the link that carries it."""

    name: str
    material: str  # a name in `palette.MATERIALS`
    shape: Shape
    place: Array  # (3,) [m] centre
    rpy: tuple[float, float, float] = (0.0, 0.0, 0.0)  # [rad] about the fixed x, y, z axes


def box(name: str, material: str, size: Point, place: Point, pitch: float = 0.0) -> Piece:
    """A box; `pitch` [rad] turns it about y, nose down positive."""
    edges = (float(size[0]), float(size[1]), float(size[2]))
    return Piece(name, material, Box(edges), np.asarray(place, dtype=float), (0.0, pitch, 0.0))


def span(name: str, material: str, low: Point, high: Point) -> Piece:
    """An upright box between two opposite corners [m]."""
    a, b = np.asarray(low, dtype=float), np.asarray(high, dtype=float)
    return box(name, material, np.abs(b - a), (a + b) / 2)


def ball(name: str, material: str, radius: float, place: Point) -> Piece:
    """A sphere."""
    return Piece(name, material, Sphere(float(radius)), np.asarray(place, dtype=float))


def rod(name: str, material: str, radius: float, start: Point, end: Point) -> Piece:
    """A cylinder from the centre of one end to the centre of the other [m]."""
    a, b = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
    length = float(np.linalg.norm(b - a))
    return Piece(
        name, material, Cylinder(float(radius), length), (a + b) / 2, _z_towards((b - a) / length)
    )


def disc(name: str, material: str, radius: float, inner: float, outer: float) -> Piece:
    """A cylinder about the y axis between two stations on it [m]."""
    return rod(name, material, radius, (0.0, inner, 0.0), (0.0, outer, 0.0))


def bar(name: str, material: str, section: tuple[float, float], start: Point, end: Point) -> Piece:
    """A rectangular bar between two points of one x-z plane [m]; `section` is (height, y width)."""
    a, b = np.asarray(start, dtype=float), np.asarray(end, dtype=float)
    along = b - a
    size = (float(np.linalg.norm(along)), section[1], section[0])
    return box(name, material, size, (a + b) / 2, pitch=-float(np.arctan2(along[2], along[0])))


def shifted(point: Point, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Array:
    """(3,) [m] the point, moved."""
    moved: Array = np.asarray(point, dtype=float) + np.array([x, y, z])
    return moved


def _z_towards(direction: Array) -> tuple[float, float, float]:
    """Roll and yaw that take z to a unit vector; without pitch there is no gimbal lock."""
    roll = float(np.arccos(np.clip(direction[2], -1.0, 1.0)))
    return (roll, 0.0, float(np.arctan2(direction[0], -direction[1])))
