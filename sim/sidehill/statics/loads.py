"""Wheel loads on any slope and grade: six equilibrium equations and a hinge without moment."""

from typing import NamedTuple

import numpy as np

from sidehill.statics.axles import axles
from sidehill.statics.slopes import lift_off_slope
from sidehill.statics.tipping import GRAVITY, Tipping
from sidehill.statics.vector import Array, Real, downward


class WheelLoads(NamedTuple):
    """Square to the ground [N]."""

    front_down: Array
    front_up: Array
    rear_down: Array
    rear_up: Array


def balance(tipping: Tipping, slope: Real, grade: Real) -> tuple[Real, Real, Real, Real]:
    """The loads that balance gravity, in the order of `WheelLoads`, whatever their signs [N].

    How the ground holds the machine on its wheels is said at `axles.axles`.
    """
    across = np.tan(slope)
    square = -GRAVITY * downward(slope, grade).z
    found: list[Real] = []
    for axle in axles(tipping, np.tan(grade)):
        half = square * axle.load / 2
        moved = half * (axle.offset - axle.drawn * across) / axle.held
        found += [half - moved, half + moved]
    front_down, front_up, rear_down, rear_up = found
    return front_down, front_up, rear_down, rear_up


def wheel_loads(tipping: Tipping, slope: Real, grade: Real = 0.0) -> WheelLoads:
    """Loads on four wheels at rest; all four NaN where no four-wheel equilibrium exists.

    That is: the slope is past lift-off, or the machine is flawed. Friction is not asked: compare
    `slide_slope`.

    Args:
        slope: [rad] side slope, 0 or more; turn the machine with `mirrored` for the other side.
        grade: [rad] along the heading, nose up positive.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        loads = balance(tipping, slope, grade)
        stands = slope <= lift_off_slope(tipping, grade)  # NaN, of a flawed machine, is not
    return WheelLoads(*(np.where(stands, np.maximum(load, 0.0), np.nan) for load in loads))
