"""The parts of the page as HTML, from templates."""

import re
from functools import lru_cache
from math import tan
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from sidehill.caution import CAUTION, IN_SHORT, NOT_MODELLED
from sidehill.desk import fields, strip_svg
from sidehill.files.errors import InputError
from sidehill.files.units import to_si
from sidehill.sheet import strips_svg

PAGES = Path(__file__).parent / "pages"
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=[^\s(\[])|(?<=ft|bf) (?=lbf|ft)")
_DIMENSIONS = {
    "mm": "length", "in": "length", "kg": "mass", "lb": "mass", "deg": "angle", "%": "ratio",
}  # fmt: skip
_UNITS = {  # offered where a number was typed without one
    "length": "mm m in ft", "mass": "kg lb", "slope": "deg %", "angle": "deg",
    "speed": "km/h mph", "pressure": "bar psi", "torque": "N m|lbf ft", "stiffness": "kN/m",
    "volume": "L gal",
}  # fmt: skip
_US = {"in", "ft", "lb", "mph", "psi", "lbf ft", "gal"}


@lru_cache(maxsize=1)
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(PAGES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["tight"] = _tight
    made.filters["id"] = as_id
    made.filters["tangent"] = tan
    made.filters["amount"] = amount
    made.globals |= {
        "caution": CAUTION,
        "in_short": IN_SHORT,
        "not_modelled": ", ".join(NOT_MODELLED),
        "fields": fields,
        "axis": strip_svg.axis(),
        "patterns": strips_svg.pattern(),
        "legend": strips_svg.legend(),
        "value_of": _value_of,
    }
    return made


def _tight(text: str) -> str:
    """Numbers kept on one line with their units."""
    return _BEFORE_UNIT.sub("\N{NO-BREAK SPACE}", text)


def as_id(path: str) -> str:
    """A field's path as an id of the page."""
    return path.replace("/", "-").replace(".", "-").replace("_", "-")


@pass_context
def _value_of(context: Context, path: str) -> str:
    """What was typed there."""
    value: Any = context["state"]
    parts = path.split("/")
    for part in parts:
        value = value[int(part) - 1] if isinstance(value, list) else value.get(part, "")
    return str(value)


def amount(text: str, unit: str) -> str:
    """Where a slider stands for what was typed: in its own unit; 0 for what is no such quantity."""
    try:
        return f"{to_si(text, _DIMENSIONS[unit]) / to_si(f'1 {unit}', _DIMENSIONS[unit]):.6g}"
    except InputError:
        return "0"


def units_of(dimension: str, us: bool) -> str:
    """Units to offer, with bars between, those of one's own system first."""
    found = _UNITS.get(dimension, "")
    units = found.split("|" if "|" in found else " ")
    return "|".join(sorted(units, key=lambda unit: (unit in _US) != us))


def part(name: str, **values: Any) -> str:
    """One template, filled."""
    return _environment().get_template(f"{name}.html").render(**values)
