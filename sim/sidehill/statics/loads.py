"""Wheel loads on any slope and grade: six equilibrium equations and a hinge without moment."""

from functools import reduce
from typing import NamedTuple

import numpy as np

from sidehill.statics.flaw import sound
from sidehill.statics.slopes import lift_off_slope
from sidehill.statics.tipping import GRAVITY, Tipping
from sidehill.statics.vector import Array, Real, scaled
from sidehill.statics.vector import downward as unit_downward


class WheelLoads(NamedTuple):
    """Square to the ground [N]."""

    front_down: Array
    front_up: Array
    rear_down: Array
    rear_up: Array


def balance(tipping: Tipping, slope: Real, grade: Real) -> tuple[Real, Real, Real, Real]:
    """The loads that balance gravity, in the order of `WheelLoads`, whatever their signs [N].

    What holds the machine along the heading acts at ground level on the rear axle, equal left and
    right; sideways each axle holds its own share. No roll moment passes through the pin.
    """
    t, cg, down = tipping, tipping.whole_cg, unit_downward(slope, grade)
    force = scaled(down, GRAVITY * t.whole_mass)
    front = (cg.z * force.x - cg.x * force.z) / t.wheelbase
    rear = -force.z - front
    front_side = (cg.y * force.x - cg.x * force.y) / t.wheelbase
    axle_side = GRAVITY * t.axle_mass * down.y
    front_difference = (
        2 / t.front_track * (t.pin_height * front_side - (t.axle_h - t.pin_height) * axle_side)
    )
    roll = cg.y * force.z - cg.z * force.y
    rear_difference = (2 * roll - t.front_track * front_difference) / t.rear_track
    return (
        (front + front_difference) / 2,
        (front - front_difference) / 2,
        (rear + rear_difference) / 2,
        (rear - rear_difference) / 2,
    )


def wheel_loads(tipping: Tipping, slope: Real, grade: Real = 0.0) -> WheelLoads:
    """Loads on four wheels at rest; all four NaN where no four-wheel equilibrium exists.

    That is: a load would be negative, the slope is past lift-off, or the machine is flawed.
    Friction is not asked: compare `slide_slope`.

    Args:
        slope: [rad] side slope, 0 or more; turn the machine with `mirrored` for the other side.
        grade: [rad] along the heading, nose up positive.
    """
    loads = balance(tipping, slope, grade)
    stands = sound(tipping, grade) & (slope <= lift_off_slope(tipping, grade))
    stands = reduce(np.logical_and, (load >= 0 for load in loads), stands)
    return WheelLoads(*(np.where(stands, load, np.nan) for load in loads))
