"""A low obstacle under the uphill rear wheel, met so slowly that only its height counts."""

import numpy as np

from sidehill.statics.flaw import masked
from sidehill.statics.path import body_cg, first_line
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real, turned


def bump_roll(height: Real, rear_track: Real) -> Array:
    """Roll to the slope, asin(R_zy), that an obstacle adds under the uphill rear wheel [rad].

    Behaviour follows the rear axle's angle (JSAM 79(1) 59-65, 2017, abstract). Under a front
    wheel the same obstacle rolls the body not at all until the axle is at its stop.

    Args:
        height: [m] of the obstacle; rear_track: [m].
    """
    return np.arcsin(np.asarray(height / rear_track, dtype=np.float64))


def lift_off_slope_on_bump(tipping: Tipping, height: Real) -> Array:
    """Side slope at which the uphill rear wheel, standing on an obstacle, carries nothing [rad].

    B turns about the line from the downhill rear contact to the pin until R_zy = height / track.
    NaN where flawed, or where the axle stop is reached first.
    """
    axis, ratio = first_line(tipping), height / tipping.rear_track
    lean = axis.y * axis.z
    square = axis.x**2 + lean**2
    with np.errstate(invalid="ignore"):
        root = np.sqrt(square - (ratio - lean) ** 2)
    cos = (axis.x * root - lean * (ratio - lean)) / square
    sin = (axis.x * (ratio - lean) + lean * root) / square
    cg = turned(body_cg(tipping), axis, cos, sin)
    hinge = np.arctan2(ratio, cos + axis.z**2 * (1 - cos))
    tangent = (axis.x * cg.y - axis.y * cg.x) / (axis.x * cg.z - axis.z * cg.x)
    return masked(np.where(hinge <= tipping.swing, np.arctan(tangent), np.nan), tipping)
