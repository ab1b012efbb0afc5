"""Energy to tip: the plane rigid body, and the two-stage path."""

from collections.abc import Callable
from functools import partial

import numpy as np

from sidehill.crosscheck.check import Check, last_digit, share
from sidehill.crosscheck.examples import tractor_g
from sidehill.statics.energy import energy_to_tip
from sidehill.statics.planar import planar_energy, planar_roll_rate, planar_trip_speed
from sidehill.statics.vector import Array

_MASS, _TRACK, _HEIGHT, _INERTIA = 1500.0, 1.10, 0.70, 450.0
_BODY = (_MASS, _TRACK, _HEIGHT, _INERTIA)
_SLOPES = (0, 10, 15, 20, 25)  # [deg]
_SOURCE = "plane rigid body (textbook mechanics)"
_NHTSA = "; on the level NHTSA's critical sliding velocity, formula from memory"

_ROWS: tuple[tuple[str, str, str, Callable[[float], Array], tuple[float, ...]], ...] = (
    (
        "energy",
        "J",
        _SOURCE,
        lambda slope: planar_energy(_MASS, _TRACK, _HEIGHT, slope),
        (2799, 1550, 1055, 652, 344),
    ),
    (
        "critical roll rate",
        "rad/s",
        _SOURCE,
        lambda slope: planar_roll_rate(*_BODY, slope),
        (1.848, 1.376, 1.135, 0.892, 0.648),
    ),
    (
        "side-trip speed",
        "m/s",
        _SOURCE + _NHTSA,
        lambda slope: planar_trip_speed(*_BODY, slope),
        (2.885, 2.147, 1.771, 1.393, 1.011),
    ),
)


def _on(degrees: float, value: Callable[[float], Array]) -> float:
    return float(value(float(np.radians(degrees))))


_PLANAR = tuple(
    Check(
        name="Energy to tip, plane rigid body",
        quantity=f"{quantity} on {slope} deg",
        unit=unit,
        expected=expected,
        tolerance=share(0.005),
        source=source,
        status="derived",
        compute=partial(_on, slope, value),
    )
    for quantity, unit, source, value, row in _ROWS
    for slope, expected in zip(_SLOPES, row, strict=True)
)
_TWO_STAGE = tuple(
    Check(
        name="Energy to tip, two-stage path",
        quantity=f"energy on {slope} deg",
        unit="J",
        expected=expected,
        tolerance=last_digit(1.0),
        source="two-stage statics (textbook mechanics), tractor G",
        status="derived",
        compute=partial(_on, slope, partial(energy_to_tip, tractor_g())),
    )
    for slope, expected in ((25, 108.0), (28, 16.0))
)

CHECKS = (*_PLANAR, *_TWO_STAGE)
