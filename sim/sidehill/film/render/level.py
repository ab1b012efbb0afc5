"""From the hillside's frame, in which a record is kept, to one whose z points up."""

from math import tan

import numpy as np

from sidehill.film.render.shapes import Array


def up(slope: float, grade: float, uphill: float) -> Array:
    """(3,) unit vector against gravity, in the hillside frame.

    Args:
        slope, grade: [rad]; uphill: +1 if +y is uphill, else -1.
    """
    vector = np.array([tan(grade), uphill * tan(slope), 1.0])
    return np.asarray(vector / np.linalg.norm(vector))


def levelling(against_gravity: Array) -> Array:
    """(3, 3) the smallest rotation that takes a unit vector to z."""
    axis = np.cross(against_gravity, (0.0, 0.0, 1.0))
    sine = float(np.linalg.norm(axis))
    if sine < 1e-12:
        return np.eye(3)
    x, y, z = axis / sine
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.asarray(np.eye(3) + sine * cross + (1.0 - against_gravity[2]) * (cross @ cross))


def fall_line(against_gravity: Array, uphill: float) -> tuple[Array, float]:
    """(2,) unit vector straight up the hillside plane, and its steepness [rad]."""
    length = float(np.hypot(*against_gravity[:2]))
    if length < 1e-9:
        return np.array([0.0, uphill]), 0.0
    return against_gravity[:2] / length, float(np.arcsin(length))
