"""A raised bucket, and ballast against it."""

from collections.abc import Callable
from functools import partial

import numpy as np

from sidehill.crosscheck.check import Check, chosen, last_digit
from sidehill.crosscheck.examples import HIGH_BUCKET, REAR_BOX, REAR_LIQUID, tractor_g
from sidehill.statics.path import body_cg, on_stop, whole_cg
from sidehill.statics.slopes import lift_off_slope, overturn_slope, second_stage_slope
from sidehill.statics.tipping import GRAVITY, Tipping
from sidehill.statics.vector import Array, dot, downward

_SOURCE = "two-stage statics (textbook mechanics), tractor G"
_LOADS = {
    "bare": ((), 31.504, 31.019),
    "300 kg raised": ((HIGH_BUCKET,), 17.988, 22.990),
    "300 kg raised, 400 kg rear box": ((HIGH_BUCKET, REAR_BOX), 25.775, 24.467),
    "300 kg raised, 220 kg rear liquid": ((HIGH_BUCKET, REAR_LIQUID), 21.394, 24.319),
}
_GONE = {
    "300 kg raised": 17.988,  # the fall carries it past a barrier that is still there
    "300 kg raised, 400 kg rear box": 25.775,  # no barrier is left: second stage below lift-off
}


def _degrees(slope: Callable[[Tipping], Array], load: str) -> float:
    return float(np.degrees(slope(tractor_g(*_LOADS[load][0]))))


def _left_past_second_barrier(load: str) -> float:
    """[J] when a fall from rest at lift-off is over the second barrier."""
    tipping = tractor_g(*_LOADS[load][0])
    down, stop = downward(lift_off_slope(tipping), 0.0), on_stop(tipping)
    along = dot(stop.whole, stop.line)
    radius = np.sqrt(dot(stop.whole, stop.whole) - along**2)
    top = radius * np.sqrt(1 - dot(down, stop.line) ** 2) - along * dot(down, stop.line)
    start = -dot(down, whole_cg(tipping, body_cg(tipping)))
    return float(GRAVITY * tipping.whole_mass * (start - top))


def _check(load: str, step: str, expected: float, compute: Callable[[], float]) -> Check:
    return Check(
        name=f"Raised bucket, {load}",
        quantity=step,
        unit="deg",
        expected=expected,
        tolerance=chosen(0.02),
        source=_SOURCE,
        status="derived",
        compute=compute,
    )


CHECKS = (
    *(
        _check(load, "lift-off", lift_off, partial(_degrees, lift_off_slope, load))
        for load, (_, lift_off, _) in _LOADS.items()
    ),
    *(
        _check(load, "second stage, exact", second, partial(_degrees, second_stage_slope, load))
        for load, (_, _, second) in _LOADS.items()
    ),
    *(
        _check(load, "overturn, at lift-off", overturn, partial(_degrees, overturn_slope, load))
        for load, overturn in _GONE.items()
    ),
    Check(
        name="Raised bucket, 300 kg raised",
        quantity="energy left past the second barrier",
        unit="J",
        expected=127.0,
        tolerance=last_digit(1.0),
        source=_SOURCE,
        status="derived",
        compute=partial(_left_past_second_barrier, "300 kg raised"),
    ),
)
