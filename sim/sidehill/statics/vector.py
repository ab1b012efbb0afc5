"""Vectors as three arrays that broadcast: one operation serves a whole sweep."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Real = float | Array


class Vector(NamedTuple):
    """Components along machine axes, each a float or an array; they broadcast."""

    x: Real
    y: Real
    z: Real


def dot(a: Vector, b: Vector) -> Real:
    """Scalar product."""
    return a.x * b.x + a.y * b.y + a.z * b.z


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product."""
    return Vector(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x)


def scaled(a: Vector, factor: Real) -> Vector:
    """`a` times a number."""
    return Vector(a.x * factor, a.y * factor, a.z * factor)


def turned(a: Vector, axis: Vector, cos: Real, sin: Real) -> Vector:
    """`a` turned right-handed about the unit vector `axis` through the origin (Rodrigues)."""
    along = dot(axis, a) * (1 - cos)
    side = cross(axis, a)
    return Vector(
        a.x * cos + side.x * sin + axis.x * along,
        a.y * cos + side.y * sin + axis.y * along,
        a.z * cos + side.z * sin + axis.z * along,
    )


def downward(slope: Real, grade: Real) -> Vector:
    """Unit vector of gravity over the ground as z = 0, its right side downhill.

    Args:
        slope: [rad] side slope, uphill is +y.
        grade: [rad] along the heading, nose up positive.
    """
    ahead, across = np.tan(grade), np.tan(slope)
    norm = np.sqrt(1 + ahead * ahead + across * across)
    return Vector(-ahead / norm, -across / norm, -1 / norm)
