"""Inputs that have no tip slope, each with the reason a person is told."""

from functools import reduce

import numpy as np
from numpy.typing import NDArray

from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real

Mask = NDArray[np.bool_]


def line_moment(tipping: Tipping, grade: Real) -> tuple[Real, Real]:
    """Moment of gravity on B about the line from the downhill rear contact to the pin.

    It is proportional to `lever * tan(slope) - hold`: `hold` keeps the uphill rear wheel down,
    `lever` is the CG's height over the line. Both [m]. The rear brakes are taken to hold through
    the downhill wheel, as they must once the uphill one carries nothing; the pitch moment of A's
    own weight about the pin on a grade is left out.

    Source: moment balance about the three-point support's side (textbook statics).
    """
    t, ahead = tipping, np.tan(grade)
    half = t.rear_track / 2
    uphill = half + t.y
    a = t.x / t.wheelbase
    hold = uphill - half * a + ahead * (half * t.h - t.pin_height * uphill) / t.wheelbase
    return hold, t.h - t.pin_height * a


def flaws(tipping: Tipping, grade: Real = 0.0) -> dict[str, Mask]:
    """Reason -> where it holds (shape of the broadcast fields).

    Args:
        grade: [rad] along the heading, nose up positive.
    """
    t, cg, ahead = tipping, tipping.whole_cg, np.tan(grade)
    hold, lever = line_moment(t, grade)
    sizes = (t.wheelbase, t.rear_track, t.front_track, t.pin_height, t.mass, t.h)
    checks = {
        "wheelbase, tracks, pin height, mass and CG height must be above 0": (
            reduce(np.logical_and, (size > 0 for size in sizes))
        ),
        "the mass of the front axle assembly must not be negative": t.axle_mass >= 0,
        "the swing must be from 0 to less than 90 deg": ((t.swing >= 0) & (t.swing < np.pi / 2)),
        "CG not ahead of the rear axle: it tips backward at this grade": cg.x > cg.z * ahead,
        "CG not behind the front axle: it tips forward at this grade": (
            cg.x - cg.z * ahead < t.wheelbase
        ),
        "CG outside the downhill wheels: it tips without any side slope": hold > 0,
        "CG not above the line from rear contact to pin: this model has no lift-off": lever > 0,
    }
    return {reason: ~np.asarray(passed, dtype=bool) for reason, passed in checks.items()}


def sound(tipping: Tipping, grade: Real = 0.0) -> Mask:
    """Where none of the flaws holds. NaN in any field is a flaw."""
    return ~reduce(np.logical_or, flaws(tipping, grade).values())


def masked(value: Real, tipping: Tipping, grade: Real = 0.0) -> Array:
    """`value` with NaN where the machine or its grade has a flaw."""
    return np.where(sound(tipping, grade), value, np.nan)
