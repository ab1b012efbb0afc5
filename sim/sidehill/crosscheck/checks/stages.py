"""The two stages of tipping of the Code 6 tractor, and how spacers move them."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from sidehill.crosscheck import code6
from sidehill.crosscheck.check import Check, Tolerance, chosen, last_digit
from sidehill.crosscheck.examples import CODE6_1, CODE6_2
from sidehill.crosscheck.hard import rest_slopes_on_hard_tyres
from sidehill.crosscheck.narrow import narrow_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.path import first_line, on_stop
from sidehill.statics.slopes import lift_off_slope, rigid_slope, second_stage_slope
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Vector, turned

_SOURCE = (
    "textbook statics; three-point hinge principle: Gibson, Elliott and Persson 1971, "
    "J. Terramechanics 8(2) 65-79; geometry of Code 6 example {}, inputs from memory"
)
_LIMIT = (
    "; Code 6 asks for at least 38 deg, and methods differ by up to 12 deg: Cavallo 2000, "
    "OECD AGR/CA/T(2000)19"
)
_THICKNESS = (0, 25, 50, 75, 100)  # [mm] per side

Slope = Callable[[Tipping], Array]
_STEPS: dict[str, Slope] = {
    "lift-off": lift_off_slope,
    "second stage, Code 6 shortcut": code6.second_stage_slope,
    "second stage, exact": second_stage_slope,
}
_STANDARD = (*_STEPS.items(), ("rigid four-wheel", rigid_slope))
_EXPECTED = (28.910, 30.410, 30.090, 36.190)
_SPACERS = {
    ("rear", "lift-off"): (28.910, 29.986, 31.039, 32.070, 33.077),
    ("rear", "second stage, Code 6 shortcut"): (30.410, 31.086, 31.750, 32.401, 33.041),
    ("rear", "second stage, exact"): (30.090, 30.755, 31.406, 32.045, 32.670),
    ("front", "lift-off"): (28.910, 28.910, 28.910, 28.910, 28.910),
    ("front", "second stage, Code 6 shortcut"): (30.410, 30.999, 31.581, 32.155, 32.722),
    ("front", "second stage, exact"): (30.090, 30.675, 31.253, 31.824, 32.387),
}


def _degrees(slope: Slope, tipping: Tipping) -> float:
    return float(np.degrees(slope(tipping)))


def _widened(end: str, millimetres: int) -> Tipping:
    tipping, track = CODE6_1.tipping(), CODE6_1.rear_track + 2e-3 * millimetres
    if end == "rear":
        return replace(tipping, rear_track=track)
    return replace(tipping, front_track=track)


def _yaw_on_stop(tipping: Tipping) -> Array:
    """[rad] of the body, and of the axle with it."""
    stop = on_stop(tipping)
    ahead = turned(Vector(1.0, 0.0, 0.0), first_line(tipping), stop.cos, stop.sin)
    return np.arctan2(ahead.y, ahead.x)


def _on_discs(stage: int) -> float:
    """[deg] lift-off (0) or second stage (1) by the simulation's own tyres and kernels."""
    outfit = Outfit(operator="0 kg")
    return rest_slopes_on_hard_tyres(narrow_machine(CODE6_1), outfit)[stage]


_TWO_STAGES = tuple(
    Check(
        name="Two-stage tip",
        quantity=quantity,
        unit="deg",
        expected=expected,
        tolerance=chosen(0.01),
        source=_SOURCE.format(1),
        status="derived",
        compute=partial(_degrees, slope, CODE6_1.tipping()),
    )
    for (quantity, slope), expected in zip(_STANDARD, _EXPECTED, strict=True)
)
_YAW = Check(
    name="Two-stage tip",
    quantity="yaw on the axle stop",
    unit="deg",
    expected=2.13,
    tolerance=last_digit(0.01),
    source=_SOURCE.format(1),
    status="derived",
    compute=partial(_degrees, _yaw_on_stop, CODE6_1.tipping()),
)
_INCLINATION = tuple(
    Check(
        name="Two-stage tip",
        quantity=f"body inclination at balance, example {example}",
        unit="deg",
        expected=expected,
        tolerance=last_digit(0.01),
        source=_SOURCE.format(example) + _LIMIT,
        status="derived",
        compute=partial(_degrees, code6.inclination, tractor.tipping()),
    )
    for example, tractor, expected in ((1, CODE6_1, 38.93), (2, CODE6_2, 38.61))
)
_DISCS = tuple(
    Check(
        name="Two-stage tip",
        quantity=f"{quantity}, compliant statics on hard thin tyres",
        unit="deg",
        expected=expected,
        tolerance=Tolerance(0.1, False, "a round thin disc pitches about its hub: 0.035 deg"),
        source=_SOURCE.format(1),
        status="derived",
        compute=partial(_on_discs, stage),
    )
    for stage, (quantity, expected) in enumerate((("lift-off", 28.910), ("second stage", 30.090)))
)
_WIDER = tuple(
    Check(
        name=f"{end.capitalize()} spacers",
        quantity=f"{step}, {millimetres} mm a side",
        unit="deg",
        expected=expected,
        tolerance=chosen(0.02),
        source=_SOURCE.format(1),
        status="derived",
        compute=partial(_degrees, _STEPS[step], _widened(end, millimetres)),
    )
    for (end, step), row in _SPACERS.items()
    for millimetres, expected in zip(_THICKNESS, row, strict=True)
)

CHECKS = (*_TWO_STAGES, _YAW, *_INCLINATION, *_DISCS, *_WIDER)
