"""Quantities at the edge: text with a unit in, plain SI inside, text for people out.

Everything below this module computes in SI. Pint is imported at the first
conversion, so that a command that converts nothing starts without it.
"""

import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from sidehill.files.errors import InputError

Rounding = Literal["nearest", "down", "up"]

NOT_COMPUTED = "not computed"  # never shown as anything that could be taken for good

NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER_AND_UNIT = re.compile(rf"\s*({NUMBER})\s*([^\s0-9.+-].{{0,30}})?\s*")
_ONE_IN = re.compile(r"\s*([+-]?)1\s*:\s*([0-9]+\.?[0-9]*|\.[0-9]+)\s*")
_UNIT_TEXT = re.compile(r"[A-Za-z°%µμ²³·*/^ ()1-3-]{1,30}")
_MOST_BITS = 1024  # of a whole number: larger ones are no float, and Python may not write them
_FLOAT_NOISE = 6  # decimals of the last digit shown that count as float noise


@dataclass(frozen=True)
class Dimension:
    """What a field measures: its SI unit, and the units that messages offer."""

    si: str
    a: str  # "a length"
    offered: str
    only: frozenset[str] = frozenset()  # the offered units are the only ones taken

    @property
    def ask(self) -> str:
        """What to write, for messages."""
        bare = "" if self.si else "as a bare number or "
        return f"give {self.a} {bare}in {self.offered}"


_DEGREES = frozenset({"deg", "°", "degree", "degrees", "rad"})

DIMENSIONS = {
    "length": Dimension("m", "a length", "m, cm, mm, in, ft"),
    "mass": Dimension("kg", "a mass", "kg, g, t, lb"),
    "angle": Dimension("rad", "an angle", "deg, rad", _DEGREES),
    "slope": Dimension("rad", "a slope", "deg, %, or 1:4", _DEGREES | {"%"}),
    "speed": Dimension("m/s", "a speed", "km/h, m/s, mph"),
    "force": Dimension("N", "a force", "N, kN, lbf"),
    "stiffness": Dimension("N/m", "a stiffness", "kN/m, N/mm, lbf/in"),
    "torque": Dimension("N m", "a torque", "N m, kN m, lbf ft"),
    "energy": Dimension("J", "an energy", "J, kJ, ft lbf"),
    "inertia": Dimension("kg m^2", "a moment of inertia", "kg m^2, lb ft^2"),
    "volume": Dimension("m^3", "a volume", "L, m^3, gal (US)"),
    "density": Dimension("kg/m^3", "a density", "kg/m^3, kg/L, lb/gal"),
    "time": Dimension("s", "a time", "s, ms, min"),
    "frequency": Dimension("Hz", "a frequency", "Hz, kHz", frozenset({"Hz", "kHz"})),
    "curvature": Dimension("rad/m", "a curvature", "deg/m, rad/m, deg/ft"),
    "psd": Dimension("m^3", "a roughness", "m^3"),
    "pressure": Dimension("Pa", "a pressure", "kPa, bar, psi"),
    "ratio": Dimension("", "a ratio", "%", frozenset({"%"})),
}


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint

    return pint.UnitRegistry()


@lru_cache(maxsize=256)
def _factor(unit: str, dimension: str) -> float:
    """What one `unit` is in the SI unit of `dimension`."""
    wanted = DIMENSIONS[dimension]
    try:
        if not _UNIT_TEXT.fullmatch(unit):
            raise ValueError(unit)
        one = _registry().Quantity(1.0, _registry().parse_units(unit))
        fits = bool(one.check(_registry().parse_units(wanted.si).dimensionality))
    except Exception as error:  # pint raises many kinds, some of them plain ValueError
        shown = unit if unit.isprintable() else ascii(unit)[1:-1]
        raise InputError(f'unknown unit "{shown}"; {wanted.ask}') from error
    if not fits or (wanted.only and unit not in wanted.only):
        raise InputError(f'"{unit}" does not measure {wanted.a}; {wanted.ask}')
    return float(one.to(wanted.si).magnitude)


def to_si(value: object, dimension: str) -> float:
    """The value in the SI unit of its dimension.

    Args:
        value: a number with its unit, such as "76 mm"; a ratio may be a bare number.
        dimension: a key of `DIMENSIONS`; slopes and angles come back in radians.

    Raises:
        InputError: no unit, wrong unit, not a number, not finite. The message
            names the units that are taken, not the field: the caller knows it.
    """
    wanted = DIMENSIONS[dimension]
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise InputError(f"not a quantity; {wanted.ask}")
    if isinstance(value, int) and value.bit_length() > _MOST_BITS:
        raise InputError(f"not a finite number; {wanted.ask}")
    text = str(value)
    if dimension == "slope" and (one_in := _ONE_IN.fullmatch(text)):
        return _one_in(*one_in.groups())
    parts = _NUMBER_AND_UNIT.fullmatch(text)
    if parts is None or not math.isfinite(float(parts[1])):
        raise InputError(f"not a finite number; {wanted.ask}")
    number, unit = float(parts[1]), (parts[2] or "").strip()
    if not unit and dimension != "ratio":
        raise InputError(f"a bare number, without a unit; {wanted.ask}")
    if not unit:
        return number
    if dimension == "slope" and unit == "%":
        return math.atan(number / 100.0)
    return number * _factor(unit, dimension)


def _one_in(sign: str, run: str) -> float:
    if float(run) == 0.0:
        raise InputError("a slope of 1:0 is a wall; give it in deg, %, or 1:4")
    return math.copysign(math.atan(1.0 / float(run)), -1.0 if sign == "-" else 1.0)


# What people read: (metric unit, decimals), (US unit, decimals)
_SHOWN = {
    "length": (("mm", 0), ("in", 1)),
    "distance": (("m", 2), ("ft", 1)),
    "mass": (("kg", 0), ("lb", 0)),
    "speed": (("km/h", 1), ("mph", 1)),
    "force": (("N", 0), ("lbf", 0)),
    "energy": (("J", 0), ("ft lbf", 0)),
    "torque": (("N m", 0), ("lbf ft", 0)),
    "stiffness": (("kN/m", 0), ("lbf/in", 0)),
    "inertia": (("kg m^2", 0), ("lb ft^2", 0)),
    "volume": (("L", 0), ("gal", 1)),
    "density": (("kg/L", 2), ("lb/gal", 1)),
    "pressure": (("kPa", 0), ("psi", 0)),
}


def show(value: float, kind: str, *, us: bool = False, rounding: Rounding = "nearest") -> str:
    """The value for a person: metric with US units in brackets, or turned round.

    Args:
        value: in SI.
        kind: a key of `_SHOWN`; "distance" is a length in metres and feet.
        us: US units first.
        rounding: "down" for thresholds and energies, "up" for loads and peaks.
    """
    if not math.isfinite(value):
        return NOT_COMPUTED
    dimension = "length" if kind == "distance" else kind
    texts = [
        f"{round_to(value / _factor(unit, dimension), decimals, rounding):,.{decimals}f} {unit}"
        for unit, decimals in _SHOWN[kind]
    ]
    first, second = reversed(texts) if us else texts
    return f"{first} ({second})"


def show_step(value: float, kind: str) -> str:
    """A small difference [SI] to two digits, in metric: "0.25 deg", "20 mm"."""
    if kind == "slope":
        return f"{math.degrees(value):.2g} deg"
    unit, _ = _SHOWN[kind][0]
    return f"{value / _factor(unit, kind):.2g} {unit}"


def show_slope(angle: float, rounding: Rounding = "nearest") -> str:
    """A slope in radians as people are always shown it: "14.0 deg (25 %)"."""
    if not math.isfinite(angle):
        return NOT_COMPUTED
    percent = 100.0 * math.tan(angle)
    return f"{show_angle(angle, rounding)} ({round_to(percent, 0, rounding):.0f} %)"


def show_threshold(angle: float) -> str:
    """A slope in radians that was found, as one that something starts at: both figures down.

    One that was given is shown by `show_slope`, to the nearest, wherever it stands.
    """
    return show_slope(angle, "down")


def show_angle(angle: float, rounding: Rounding = "nearest") -> str:
    """An angle in radians that is no slope, as a roll or a steer: "9.9 deg"."""
    if not math.isfinite(angle):
        return NOT_COMPUTED
    return f"{round_to(math.degrees(angle), 1, rounding):.1f} deg"


def round_to(value: float, decimals: int, rounding: Rounding = "nearest") -> float:
    """The value rounded to decimals; "down" is toward minus infinity."""
    scaled = round(value * 10.0**decimals, _FLOAT_NOISE)
    if rounding == "nearest":
        return round(scaled) / 10.0**decimals
    return (math.floor(scaled) if rounding == "down" else math.ceil(scaled)) / 10.0**decimals
