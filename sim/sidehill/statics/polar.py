"""The tip slope for ground that falls away in any direction."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sidehill.statics.flaw import masked
from sidehill.statics.path import body_cg, first_line
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real, Vector, cross, dot

TIPS_OVER = ("rear right contact and pin", "rear left contact and pin", "rear axle", "front axle")


class RoundSlope(NamedTuple):
    """Tip slope of each direction."""

    slope: Array  # [rad]
    over: NDArray[np.intp]  # index into TIPS_OVER: what it tips about


def _sideways(tipping: Tipping, ahead: Real, uphill: Real) -> Array:
    """Tangent at which B turns about the first line, gravity drawn toward (ahead, uphill)."""
    axis, cg = first_line(tipping), body_cg(tipping)
    held = dot(axis, cross(cg, Vector(0.0, 0.0, -1.0)))
    drawn = dot(axis, cross(cg, Vector(ahead, uphill, 0.0)))
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(drawn > 0, -held / drawn, np.inf)


def _lengthways(distance: Real, height: Real, toward: Real) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(toward > 0, distance / (height * toward), np.inf)


def round_slope(tipping: Tipping, direction: Real) -> RoundSlope:
    """Lowest slope at which the machine tips, for ground falling toward `direction`.

    Sideways: a rear wheel lifts (B about the line through the other one and the pin). Lengthways:
    the whole tips over the rear axle, or over the front axle.

    Args:
        tipping: with its right side downhill (y to the left).
        direction: [rad] of the way down seen from above, from straight ahead (0, nose down)
            counterclockwise: pi/2 left side downhill, pi nose up, 3 pi/2 right side downhill.
    """
    ahead, left = np.cos(direction), np.sin(direction)
    cg = tipping.whole_cg
    tangents = np.broadcast_arrays(
        _sideways(tipping, ahead, left),
        _sideways(tipping.mirrored(), ahead, -left),
        _lengthways(cg.x, cg.z, -ahead),
        _lengthways(tipping.wheelbase - cg.x, cg.z, ahead),
    )
    over = np.argmin(tangents, axis=0)
    flawless = masked(np.arctan(np.min(tangents, axis=0)), tipping)
    return RoundSlope(flawless, over)
