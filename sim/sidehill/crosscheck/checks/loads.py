"""Wheel and axle loads at rest."""

from functools import partial

import numpy as np
from scipy.optimize import brentq

from sidehill.crosscheck.check import Check, chosen, last_digit
from sidehill.crosscheck.examples import tractor_g
from sidehill.statics.loads import balance, wheel_loads
from sidehill.statics.polar import round_slope
from sidehill.statics.tipping import GRAVITY, Tipping

_SOURCE = "six equilibrium equations and a hinge without roll moment (textbook statics), tractor G"
_TEXTBOOK = "longitudinal textbook case: inputs published, outputs derived"
_LEVEL = (3855.0, 2415.0, 5708.0, 2235.0)  # [N]
# [N] front and rear axle: how their two sides share depends on how the wheels hold, which the
# derived values take as equal left and right and this package as equal parts of the grip
_AXLES = {
    "10 deg nose up": (10.0, (3292.0 + 1872.0, 6135.0 + 2712.0)),
    "10 deg nose down": (-10.0, (4309.0 + 2890.0, 5118.0 + 1695.0)),
}
_WHEELS = ("front downhill", "front uphill", "rear downhill", "rear uphill")


def _load(wheel: int) -> float:
    """[N] of tractor G on a 15 deg side slope."""
    return float(wheel_loads(tractor_g(), np.radians(15.0))[wheel])


def _axle_load(end: int, grade: float) -> float:
    """[N] of tractor G's front (0) or rear (1) axle on a 15 deg side slope and a grade [deg]."""
    loads = wheel_loads(tractor_g(), np.radians(15.0), np.radians(grade))
    return float(loads[2 * end] + loads[2 * end + 1])


def _uphill_front_lifts() -> float:
    """[deg] side slope, if nothing lifted before it."""
    machine = tractor_g()
    slope = brentq(lambda s: float(balance(machine, s, 0.0)[1]), 0.1, 1.4)
    return float(np.degrees(slope))


def _textbook() -> Tipping:
    return Tipping(
        mass=49050.0 / GRAVITY,
        x=1.0,
        y=0.0,
        h=1.5,
        axle_mass=0.0,
        axle_h=0.5,
        wheelbase=2.25,
        pin_height=0.5,  # this, tracks and swing have no bearing without a side slope
        rear_track=1.5,
        front_track=1.5,
        swing=0.2,
    )


def _axle(end: str) -> float:
    """[N] of the textbook case 10 deg nose up."""
    loads = wheel_loads(_textbook(), 0.0, np.radians(10.0))
    return float(getattr(loads, f"{end}_down") + getattr(loads, f"{end}_up"))


def _tips_back() -> float:
    return float(np.degrees(round_slope(_textbook(), np.pi).slope))


_SIDE_SLOPE = tuple(
    Check(
        name="Wheel loads, 15 deg side slope, on the level",
        quantity=wheel,
        unit="N",
        expected=expected,
        tolerance=chosen(1.0),
        source=_SOURCE,
        status="derived",
        compute=partial(_load, number),
    )
    for number, (wheel, expected) in enumerate(zip(_WHEELS, _LEVEL, strict=True))
)
_ON_GRADES = tuple(
    Check(
        name=f"Wheel loads, 15 deg side slope, {where}",
        quantity=f"{end} axle",
        unit="N",
        expected=expected,
        tolerance=chosen(2.0),
        source=_SOURCE,
        status="derived",
        compute=partial(_axle_load, number, grade),
    )
    for where, (grade, row) in _AXLES.items()
    for number, (end, expected) in enumerate(zip(("front", "rear"), row, strict=True))
)
_FRONT_LIFTS = Check(
    name="Wheel loads",
    quantity="uphill front wheel would lift only at",
    unit="deg",
    expected=49.4,
    tolerance=last_digit(0.1),
    source=_SOURCE,
    status="derived",
    compute=_uphill_front_lifts,
)
_LENGTHWAYS = tuple(
    Check(
        name="Axle loads, 10 deg nose up",
        quantity=end,
        unit="N",
        expected=expected,
        tolerance=last_digit(1.0),
        source=_TEXTBOOK,
        status="derived",
        compute=partial(_axle, end),
    )
    for end, expected in (("front", 15791.0), ("rear", 32514.0))
)
_BACK = Check(
    name="Axle loads, 10 deg nose up",
    quantity="tips back at",
    unit="deg",
    expected=33.69,
    tolerance=last_digit(0.01),
    source=_TEXTBOOK,
    status="derived",
    compute=_tips_back,
)

CHECKS = (*_SIDE_SLOPE, *_ON_GRADES, _FRONT_LIFTS, *_LENGTHWAYS, _BACK)
