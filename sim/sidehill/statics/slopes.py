"""The side slopes at which a machine lifts a wheel and goes over (rigid, closed form)."""

from typing import NamedTuple

import numpy as np

from sidehill.statics.axles import Axles, axles
from sidehill.statics.flaw import Mask, masked
from sidehill.statics.path import StopPose, body_cg, on_stop, whole_cg
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real, dot


class LiftOff(NamedTuple):
    """Tangents of the side slopes at which the first wheel of each axle carries nothing."""

    front: Real
    rear: Real


def lift_off_tangents(tipping: Tipping, grade: Real) -> LiftOff:
    """Where each axle's first wheel lifts: the uphill one (on a steep grade, perhaps not in front).

    Meaningless where flawed. On the level the rear one is (T/2 (1 - a) + y) / (h - p a),
    a = x / wheelbase, all of body B: the moment of gravity about the line from the downhill rear
    contact to the pin. The front track does not appear there.
    """
    return _tangents(axles(tipping, np.tan(grade)))


def _tangents(on: Axles) -> LiftOff:
    front, rear = on
    with np.errstate(divide="ignore", invalid="ignore"):
        return LiftOff(
            (front.held + np.sign(front.drawn) * front.offset) / np.abs(front.drawn),
            (rear.held + rear.offset) / rear.drawn,
        )


def lift_off_slope(tipping: Tipping, grade: Real = 0.0) -> Array:
    """Side slope at which the first wheel's load reaches zero [rad]; NaN where flawed.

    Args:
        grade: [rad] along the heading, nose up positive; side slopes are those of its `downward`.
    """
    on = axles(tipping, np.tan(grade))
    front, rear = _tangents(on)
    return masked(np.arctan(np.minimum(front, rear)), tipping, grade, on)


def front_lifts_first(tipping: Tipping, grade: Real = 0.0) -> Mask:
    """Whether a front wheel is the first to lift; then nothing here models the way over.

    Just then the whole machine would tip about its downhill contacts (`rigid_slope`) before its
    body swings about the pin.
    """
    front, rear = lift_off_tangents(tipping, grade)
    return np.asarray(front < rear)


def _second_stage_tan(stop: StopPose, grade: Real) -> Real:
    cg, line = stop.whole, stop.line
    return (line.x * cg.y - line.y * (cg.x - cg.z * np.tan(grade))) / (line.x * cg.z)


def second_stage_slope(tipping: Tipping, grade: Real = 0.0) -> Array:
    """Side slope past which the machine, resting on its stop, tips over [rad]; NaN where flawed.

    Reached only by a machine that was lowered gently: never quote it as the limit. Negative when
    the machine would go over on its stop even without a side slope.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        tan = _second_stage_tan(on_stop(tipping), grade)
        return masked(np.arctan(tan), tipping, grade)


def _fall_through_tan(tipping: Tipping, stop: StopPose, grade: Real) -> Real:
    """Tangent of the lower slope at which the four-wheel pose is as high as the second barrier.

    Height over the foot of the CG on the second line, t = tan(slope): y t + z on four wheels,
    radius * sqrt(1 + t^2 + tan(grade)^2 - (gravity along the line)^2) on top of the barrier.
    Squared, a quadratic in t. Its first root is c / (b + sqrt(b^2 - a c)) whatever the sign of a.
    """
    ahead, line = np.tan(grade), stop.line
    start, foot = whole_cg(tipping, body_cg(tipping)), dot(stop.whole, line)
    y = start.y - foot * line.y
    z = start.z + ahead * (start.x - foot * line.x)
    radius_squared = dot(stop.whole, stop.whole) - foot * foot
    a = radius_squared * line.x**2 - y**2
    b = y * z + radius_squared * ahead * line.x * line.y
    c = radius_squared * (1 + (ahead * line.y) ** 2) - z**2
    discriminant = np.maximum(b * b - a * c, 0.0)  # 0 but for rounding when the swing is 0
    return c / (b + np.sqrt(discriminant))


def overturn_slope(tipping: Tipping, grade: Real = 0.0) -> Array:
    """The fall-through slope [rad]; NaN where flawed.

    Lowest slope at or above lift-off at which the fall from the four-wheel pose, from rest and
    without loss, carries the machine over the second barrier. Where the second stage is no
    steeper than lift-off there is no barrier left and this is the lift-off slope; so it is where
    a front wheel lifts first, whose way over is not modelled: no more is claimed.
    """
    stop, on = on_stop(tipping), axles(tipping, np.tan(grade))
    front, rear = _tangents(on)
    lift = np.minimum(front, rear)
    with np.errstate(divide="ignore", invalid="ignore"):
        second = _second_stage_tan(stop, grade)
        fall = _fall_through_tan(tipping, stop, grade)
    caught = (second > lift) & (rear <= front)
    over = np.where(caught, np.clip(fall, lift, np.maximum(second, lift)), lift)
    return masked(np.arctan(over), tipping, grade, on)


def rigid_slope(tipping: Tipping, grade: Real = 0.0) -> Array:
    """Tip slope of the whole machine if the front axle could not swing [rad]; NaN where flawed.

    About the line through the two downhill contacts; atan(T / 2h) for equal tracks and a CG on
    the centre line (static stability factor T / 2h: NHTSA rollover notice). It overstates a
    machine with a pivoting front axle.
    """
    t, cg = tipping, tipping.whole_cg
    ahead = (cg.x - cg.z * np.tan(grade)) / t.wheelbase
    half_track = (t.rear_track + ahead * (t.front_track - t.rear_track)) / 2
    with np.errstate(divide="ignore", invalid="ignore"):
        return masked(np.arctan((half_track + cg.y) / cg.z), t, grade)
