"""Inputs that have no tip slope, each with the reason a person is told."""

from functools import reduce

import numpy as np
from numpy.typing import NDArray

from sidehill.statics.axles import Axles, axles
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real

Mask = NDArray[np.bool_]


_SIDEWAYS = {  # asked only of a machine that tips over neither axle
    "downhill": "CG outside the downhill wheels: it tips without any side slope",
    "uphill": "CG outside the uphill wheels: it tips uphill where there is no side slope",
    "front": "a front wheel carries nothing even where there is no side slope",
    "line": "CG not above the line from rear contact to pin: this model has no lift-off",
}


def _passed(t: Tipping, on: Axles) -> dict[str, Mask]:
    """Reason -> where it does not hold."""
    front, rear = on
    sizes = (t.wheelbase, t.rear_track, t.front_track, t.pin_height, t.mass, t.h)
    checks = {
        "wheelbase, tracks, pin height, mass and CG height must be above 0": (
            reduce(np.logical_and, (size > 0 for size in sizes))
        ),
        "the mass of the front axle assembly must not be negative": t.axle_mass >= 0,
        "the swing must be from 0 to less than 90 deg": ((t.swing >= 0) & (t.swing < np.pi / 2)),
        "CG not ahead of the rear axle: it tips backward at this grade": front.load > 0,
        "CG not behind the front axle: it tips forward at this grade": rear.load > 0,
        _SIDEWAYS["downhill"]: rear.offset > -rear.held,
        _SIDEWAYS["uphill"]: rear.offset < rear.held,
        _SIDEWAYS["front"]: np.abs(front.offset) < front.held,
        _SIDEWAYS["line"]: rear.drawn > 0,
    }
    return {reason: np.asarray(passed, dtype=bool) for reason, passed in checks.items()}


def flaws(tipping: Tipping, grade: Real = 0.0) -> dict[str, Mask]:
    """Reason -> where it holds (shape of the broadcast fields).

    Args:
        grade: [rad] along the heading, nose up positive.
    """
    on = axles(tipping, np.tan(grade))
    upright = np.asarray((on[0].load > 0) & (on[1].load > 0))
    return {
        reason: ~passed & upright if reason in _SIDEWAYS.values() else ~passed
        for reason, passed in _passed(tipping, on).items()
    }


def sound(tipping: Tipping, grade: Real = 0.0, on: Axles | None = None) -> Mask:
    """Where none of the flaws holds. NaN in any field is a flaw.

    Args:
        on: its axles on that grade, where they are known already.
    """
    on = axles(tipping, np.tan(grade)) if on is None else on
    return reduce(np.logical_and, _passed(tipping, on).values())


def masked(value: Real, tipping: Tipping, grade: Real = 0.0, on: Axles | None = None) -> Array:
    """`value` with NaN where the machine or its grade has a flaw; `on` as in `sound`."""
    return np.where(sound(tipping, grade, on), value, np.nan)
