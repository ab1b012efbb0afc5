"""The way over in two stages: about the rear contact and the pin, then about two contacts.

Stage one turns body B about the line from the downhill rear contact to the pin; the front axle
assembly stays flat on the ground. When the hinge reaches its stop, stage two turns the whole
machine about the line through the two downhill contacts (the three-point hinge principle:
Gibson, Elliott and Persson 1971, J. Terramechanics 8(2) 65-79). Nothing here knows the slope.
"""

from typing import NamedTuple

import numpy as np

from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Real, Vector, scaled, turned


class StopPose(NamedTuple):
    """The machine as it meets its axle stop; positions from the downhill rear contact."""

    cos: Real  # of the angle B has turned about the first line
    sin: Real
    body: Vector  # [m] CG of B
    whole: Vector  # [m] CG of B and A together
    line: Vector  # unit vector of the second line, forward, in the ground


def first_line(tipping: Tipping) -> Vector:
    """Unit vector from the downhill rear contact to the pin."""
    to_pin = Vector(tipping.wheelbase, tipping.rear_track / 2, tipping.pin_height)
    return scaled(to_pin, 1 / np.sqrt(to_pin.x**2 + to_pin.y**2 + to_pin.z**2))


def body_cg(tipping: Tipping) -> Vector:
    """[m] CG of B from the downhill rear contact, on four wheels."""
    return Vector(tipping.x, tipping.y + tipping.rear_track / 2, tipping.h)


def whole_cg(tipping: Tipping, body: Vector) -> Vector:
    """[m] CG of B and A together from the downhill rear contact, with B's CG at `body`."""
    share = tipping.mass / tipping.whole_mass
    rest = 1 - share
    return Vector(
        share * body.x + rest * tipping.wheelbase,
        share * body.y + rest * tipping.rear_track / 2,
        share * body.z + rest * tipping.axle_h,
    )


def turn_to_stop(axis: Vector, swing: Real) -> tuple[Real, Real]:
    """Cosine and sine of B's turn about `axis` at which atan2(R_zy, R_zz) equals `swing` [rad].

    R_zy cos(swing) - R_zz sin(swing) = 0 is linear in the cosine and sine of the turn:
    p sin - (q + sin(swing)) cos = -q.
    """
    cos_swing, sin_swing = np.cos(swing), np.sin(swing)
    p = axis.x * cos_swing
    q = axis.z * (axis.y * cos_swing - axis.z * sin_swing)
    r = q + sin_swing
    square = p * p + r * r
    root = np.sqrt(square - q * q)
    return (p * root + r * q) / square, (r * root - p * q) / square


def on_stop(tipping: Tipping) -> StopPose:
    """Where B, the whole and the downhill front contact are once the hinge is at its stop.

    The axle yaws with B about the foot of the pin; contacts are thin discs in the tyre centre
    planes; the rear contact is fixed in B.
    """
    axis = first_line(tipping)
    cos, sin = turn_to_stop(axis, tipping.swing)
    body = turned(body_cg(tipping), axis, cos, sin)
    heading_x = cos + axis.x * axis.x * (1 - cos)
    heading_y = axis.x * axis.y * (1 - cos) + axis.z * sin
    half = tipping.front_track / 2 / np.sqrt(heading_x * heading_x + heading_y * heading_y)
    along_x = tipping.wheelbase + half * heading_y
    along_y = tipping.rear_track / 2 - half * heading_x
    length = np.sqrt(along_x * along_x + along_y * along_y)
    line = Vector(along_x / length, along_y / length, 0.0)
    return StopPose(cos, sin, body, whole_cg(tipping, body), line)
