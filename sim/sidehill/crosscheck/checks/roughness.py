"""Roughness of the ground (ISO 8608)."""

from functools import partial
from math import sqrt

from sidehill.crosscheck.check import Check, last_digit
from sidehill.scenario.ground import ROUGHNESS

_REFERENCE = 0.1  # [cycle/m] n0
_LOW, _HIGH = 0.011, 2.83  # [cycle/m]
_ROWS = (("A", 3.81, 0.01), ("B", 7.61, 0.01), ("C", 15.2, 0.1), ("D", 30.5, 0.1), ("E", 60.9, 0.1))


def _rms(grade: str) -> float:
    """[mm] of Gd(n) = Gd(n0) (n / n0)^-2, integrated over the band."""
    return 1e3 * sqrt(ROUGHNESS[grade] * _REFERENCE**2 * (1 / _LOW - 1 / _HIGH))


CHECKS = tuple(
    Check(
        name="Roughness",
        quantity=f"rms height of class {grade} from 0.011 to 2.83 cycle/m",
        unit="mm",
        expected=expected,
        tolerance=last_digit(digit),
        source=(
            "ISO 8608 geometric means, published in two secondary sources; rms derived from the "
            "power spectral density"
        ),
        status="derived",
        compute=partial(_rms, grade),
    )
    for grade, expected, digit in _ROWS
)
