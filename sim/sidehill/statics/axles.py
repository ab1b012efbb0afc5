"""What each axle carries, and what a side slope moves from its uphill to its downhill wheel."""

from typing import NamedTuple

import numpy as np

from sidehill.machine.fitted import Fitted
from sidehill.statics.assembly import from_fitted
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Real


class Axle(NamedTuple):
    """One axle on a grade, over t = tan(side slope); per unit of gravity square to the ground.

    Its uphill wheel carries load / 2 * (1 + (offset - drawn t) / held), the downhill one the rest.
    """

    load: Real  # [kg] of both wheels
    held: Real  # [kg m] moment at which one of its wheels carries nothing
    offset: Real  # [kg m] toward uphill, without a side slope
    drawn: Real  # [kg m] toward downhill, for each unit of t


Axles = tuple[Axle, Axle]  # front and rear


def axles(tipping: Tipping, ahead: Real) -> Axles:
    """Front and rear, from six equilibrium equations and a hinge without roll moment.

    What holds the machine along the heading acts at ground level on the rear wheels, in
    proportion to their loads (each uses the same part of its grip): a wheel that has lifted holds
    nothing. Sideways each axle holds its own share. On a grade the weight of the front axle
    assembly pitches the body through the pin; that counts.

    Args:
        ahead: tangent of the grade, nose up positive.
    """
    t, whole = tipping, tipping.whole_mass
    along = ahead / t.wheelbase
    a, beside = t.x / t.wheelbase, t.mass * t.y
    front_moment = t.mass * t.h + t.axle_mass * t.axle_h
    front_load = t.mass * a + t.axle_mass - along * front_moment
    pulled = t.pin_height * along * whole  # [kg] by which holding at the ground turns the axles
    rear_load = whole - front_load
    firm = rear_load - pulled  # [kg] of the rear load that resists roll
    rear = Axle(
        rear_load,
        firm * t.rear_track / 2,
        beside * (1 - t.pin_height * along),
        t.mass * (t.h - t.pin_height * a),
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        twist = pulled / firm  # of the rear axle's difference, that comes back to the front one
    front = Axle(
        front_load,
        front_load * t.front_track / 2,
        t.pin_height * along * beside - twist * rear.offset,
        t.pin_height * t.mass * a + t.axle_mass * t.axle_h - twist * rear.drawn,
    )
    return front, rear


def axle_loads(fitted: Fitted, grade: float = 0.0) -> tuple[float, float]:
    """[kg] front and rear, square to a ground without side slope; a negative one has lifted.

    Args:
        grade: [rad] nose up positive.
    """
    front, rear = axles(from_fitted(fitted), np.tan(grade))
    upright = np.cos(grade)
    return float(front.load * upright), float(rear.load * upright)
