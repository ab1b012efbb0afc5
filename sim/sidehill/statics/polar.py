"""The lift-off slope for ground that falls away in any direction."""

from math import isnan
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from sidehill.statics.axles import axles
from sidehill.statics.flaw import masked
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Real

WHEELS = ("front right", "front left", "rear right", "rear left")
LIFTS = (*WHEELS, "both front", "both rear")  # both: the whole tips over the other axle
TABLE_STEP = 5  # [deg] of direction
_SAME = 1e-9  # of a tangent: wheels of one axle that lift so close together lift at once


class RoundSlope(NamedTuple):
    """Lift-off of each direction."""

    slope: Array  # [rad]
    lifts: NDArray[np.intp]  # index into LIFTS: what lifts first


def _spare(tipping: Tipping, ahead: Real, across: Real) -> Array:
    """(4, ...) of each wheel, what is left until it lifts; its load times a positive number.

    Along a ray of growing slope each is a polynomial of the second degree at most.
    """
    front, rear = axles(tipping, ahead)
    firm = 2 * rear.held / tipping.rear_track
    moved_front, moved_rear = (axle.offset - axle.drawn * across for axle in (front, rear))
    return np.stack(
        np.broadcast_arrays(
            firm * (front.held - moved_front),
            firm * (front.held + moved_front),
            rear.load * (rear.held - moved_rear),
            rear.load * (rear.held + moved_rear),
        )
    )


def _first_root(level: Array, there: Array, opposite: Array) -> Array:
    """Least s > 0 at which a quadratic is 0, from its values at 0, 1 and -1; infinite if none."""
    linear, square = (there - opposite) / 2, (there + opposite) / 2 - level
    with np.errstate(divide="ignore", invalid="ignore"):
        root = 2 * level / (np.sqrt(linear * linear - 4 * square * level) - linear)
    return np.where(root > 0, root, np.inf)


def round_slope(tipping: Tipping, direction: Real) -> RoundSlope:
    """Lowest slope at which a wheel lifts, for ground falling toward `direction`.

    Args:
        tipping: with its right side downhill (y to the left).
        direction: [rad] of the way down seen from above, from straight ahead (0, nose down)
            counterclockwise: pi/2 left side downhill, pi nose up, 3 pi/2 right side downhill.
    """
    ahead, across = -np.cos(direction), -np.sin(direction)
    here, there, opposite = (_spare(tipping, s * ahead, s * across) for s in (0.0, 1.0, -1.0))
    tangents = _first_root(here, there, opposite)
    first, least = np.argmin(tangents, axis=0), np.min(tangents, axis=0)
    partner = np.take_along_axis(tangents, (first ^ 1)[None], axis=0)[0]
    lifts = np.where(partner <= least * (1 + _SAME), len(WHEELS) + first // 2, first)
    return RoundSlope(masked(np.arctan(least), tipping), lifts)


def round_table(tipping: Tipping) -> list[dict[str, Any]]:
    """Lift-off all round as rows of plain values, a direction every `TABLE_STEP`; None: flawed."""
    degrees = np.arange(0, 360, TABLE_STEP)
    found = round_slope(tipping, np.radians(degrees))
    return [
        {
            "direction_deg": float(direction),
            "lift_off_slope_deg": None if isnan(slope) else float(np.degrees(slope)),
            "lifts_first": None if isnan(slope) else LIFTS[index].replace(" ", "_"),
        }
        for direction, slope, index in zip(degrees, found.slope, found.lifts, strict=True)
    ]
