"""Inputs that have no tip slope, each with the reason a person is told."""

from functools import reduce

import numpy as np
from numpy.typing import NDArray

from sidehill.statics.axles import axles
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real

Mask = NDArray[np.bool_]


def flaws(tipping: Tipping, grade: Real = 0.0) -> dict[str, Mask]:
    """Reason -> where it holds (shape of the broadcast fields).

    Args:
        grade: [rad] along the heading, nose up positive.
    """
    t = tipping
    front, rear = axles(t, np.tan(grade))
    between = (front.load > 0) & (rear.load > 0)  # else what happens sideways is not asked
    sizes = (t.wheelbase, t.rear_track, t.front_track, t.pin_height, t.mass, t.h)
    checks = {
        "wheelbase, tracks, pin height, mass and CG height must be above 0": (
            reduce(np.logical_and, (size > 0 for size in sizes))
        ),
        "the mass of the front axle assembly must not be negative": t.axle_mass >= 0,
        "the swing must be from 0 to less than 90 deg": ((t.swing >= 0) & (t.swing < np.pi / 2)),
        "CG not ahead of the rear axle: it tips backward at this grade": front.load > 0,
        "CG not behind the front axle: it tips forward at this grade": rear.load > 0,
        "CG outside the downhill wheels: it tips without any side slope": (
            ~between | (rear.offset > -rear.held)
        ),
        "CG outside the uphill wheels: it tips uphill where there is no side slope": (
            ~between | (rear.offset < rear.held)
        ),
        "a front wheel carries nothing even where there is no side slope": (
            ~between | (np.abs(front.offset) < front.held)
        ),
        "CG not above the line from rear contact to pin: this model has no lift-off": (
            ~between | (rear.drawn > 0)
        ),
    }
    return {reason: ~np.asarray(passed, dtype=bool) for reason, passed in checks.items()}


def sound(tipping: Tipping, grade: Real = 0.0) -> Mask:
    """Where none of the flaws holds. NaN in any field is a flaw."""
    return ~reduce(np.logical_or, flaws(tipping, grade).values())


def masked(value: Real, tipping: Tipping, grade: Real = 0.0) -> Array:
    """`value` with NaN where the machine or its grade has a flaw."""
    return np.where(sound(tipping, grade), value, np.nan)
