"""The quantities that a strip is taken over: one table for all who speak of them.

A further quantity is a row here and nothing else.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, radians
from typing import Any

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.units import Rounding, show, show_slope

KMH = 1.0 / 3.6  # [m/s]


@dataclass(frozen=True)
class Varied:
    """A quantity that a strip is taken over; low, high, scan and tolerance in SI."""

    name: str
    words: str  # as a person calls it
    field: str  # dotted, in the scenario; {n} is the number of the feature
    dimension: str  # of `units.DIMENSIONS`
    unit: str  # of values in JSON and tables
    suffix: str  # of a column or a key in that unit
    from_si: Callable[[float], float]  # to that unit, a plain factor
    low: float
    high: float
    scan: float  # step of the scan
    tolerance: float  # to which a change is narrowed

    def case_at(self, case: Case, value: float, feature: int = 1) -> Case:
        """The case with the quantity at a value [SI].

        Raises:
            InputError: the scenario has no such feature, or a file may not hold the value.
        """
        return case.with_scenario({self.field.format(n=feature): value})

    def value_in(self, case: Case, feature: int = 1) -> float:
        """[SI] of the case as it stands."""
        found: Any = case.scenario
        for part in self.field.format(n=feature).split("."):
            found = found[int(part) - 1] if part.isdecimal() else getattr(found, part)
        return float(found)

    def to_si(self, value: float) -> float:
        """A value in the quantity's unit [SI]."""
        return value / self.from_si(1.0)

    @property
    def is_of_a_feature(self) -> bool:
        """Whether it is a property of one feature of the ground."""
        return "{n}" in self.field

    def show(self, value: float, rounding: Rounding = "nearest", *, us: bool = False) -> str:
        """A value [SI] for a person; a limit is rounded down, what is given to the nearest."""
        if self.dimension == "slope":
            return show_slope(value, rounding)
        return show(value, self.dimension, us=us, rounding=rounding)


VARIED = {
    varied.name: varied
    for varied in (
        Varied(
            "slope", "side slope", "ground.slope", "slope", "deg", "deg", degrees,
            radians(1.0), radians(35.0), radians(0.25), radians(0.02),
        ),
        Varied(
            "speed", "speed", "drive.speed", "speed", "m/s", "m_s", float,
            0.5 * KMH, 15.0 * KMH, 0.25 * KMH, 0.02 * KMH,
        ),
        Varied(
            "bump", "height of the feature", "feature.{n}.height", "length", "m", "m", float,
            0.01, 0.30, 0.01, 0.001,
        ),
    )
}  # fmt: skip


def varied_by(name: str) -> Varied:
    """The quantity of that name.

    Raises:
        InputError: there is none; those known are named.
    """
    if name not in VARIED:
        raise InputError(f"limit of '{name}' is not known; use {', '.join(VARIED)}")
    return VARIED[name]
