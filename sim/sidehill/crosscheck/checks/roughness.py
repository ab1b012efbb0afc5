"""Roughness of the ground (ISO 8608)."""

from functools import partial
from math import sqrt

import numpy as np

from sidehill.crosscheck.check import Check, last_digit, share
from sidehill.scenario.ground import ROUGHNESS
from sidehill.terrain.roughness import profile

_REFERENCE = 0.1  # [cycle/m] n0
_LOW, _HIGH = 0.011, 2.83  # [cycle/m]
_PROFILES, _LENGTH, _SPACING = 12, 1000.0, 0.15  # [m]: many of the longest wave, 91 m
_ROWS = (("A", 3.81, 0.01), ("B", 7.61, 0.01), ("C", 15.2, 0.1), ("D", 30.5, 0.1), ("E", 60.9, 0.1))


def _rms(grade: str) -> float:
    """[mm] of Gd(n) = Gd(n0) (n / n0)^-2, integrated over the band."""
    return 1e3 * sqrt(ROUGHNESS[grade] * _REFERENCE**2 * (1 / _LOW - 1 / _HIGH))


def _ensemble(grade: str) -> float:
    """[mm] mean rms height of profiles of the simulation's ground, each from its own seed."""
    along = np.arange(0.0, _LENGTH, _SPACING)
    profiles = (
        profile(ROUGHNESS[grade], along, np.random.default_rng(seed)) for seed in range(_PROFILES)
    )
    return 1e3 * float(np.mean([np.sqrt(np.mean(heights**2)) for heights in profiles]))


_SOURCE = (
    "ISO 8608 geometric means, published in two secondary sources; rms derived from the "
    "power spectral density"
)
_DENSITY = tuple(
    Check(
        name="Roughness",
        quantity=f"rms height of class {grade} from 0.011 to 2.83 cycle/m",
        unit="mm",
        expected=expected,
        tolerance=last_digit(digit),
        source=_SOURCE,
        status="derived",
        compute=partial(_rms, grade),
    )
    for grade, expected, digit in _ROWS
)
_PROFILE = tuple(
    Check(
        name="Roughness",
        quantity=f"rms height of class {grade}, mean of {_PROFILES} profiles of the ground",
        unit="mm",
        expected=expected,
        tolerance=share(0.05),
        source=_SOURCE,
        status="derived",
        compute=partial(_ensemble, grade),
    )
    for grade, expected, _ in _ROWS
)

CHECKS = (*_DENSITY, *_PROFILE)
