"""Units in, units out: a machine measured in pounds and inches is the machine in kilograms."""

import json
from typing import Any

import pytest
from hypothesis import assume, given, settings
from properties.generated import machine_of, machine_tables, outfit_of, outfit_tables

from sidehill.files.errors import InputError
from sidehill.files.problems import note_of
from sidehill.files.spec import Spec, build
from sidehill.files.toml import Document
from sidehill.machine.build import LEAST_MASS, fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.report import tip

# exact by definition, but for the volume of the US gallon, 231 cubic inches: NIST SP 811, app. B
INCH, POUND, G = 0.0254, 0.45359237, 9.80665
US = {
    "length": (INCH, "in"),
    "mass": (POUND, "lb"),
    "stiffness": (POUND * G / INCH, "lbf/in"),
    "torque": (POUND * G * 12 * INCH, "lbf ft"),
    "inertia": (POUND * (12 * INCH) ** 2, "lb ft^2"),
    "volume": (231 * INCH**3, "gal"),
    "angle": (1.0, "rad"),
    "ratio": (0.01, "%"),
}
METRIC = {
    "length": (1e-3, "mm"),
    "mass": (1e3, "t"),
    "stiffness": (1e3, "kN/m"),
    "torque": (1.0, "N m"),
    "inertia": (1.0, "kg m^2"),
    "volume": (1e-3, "L"),
    "angle": (1.0, "rad"),
    "ratio": (1.0, ""),
}
ROUNDING = 1e-9  # relative: text holds 17 digits


def written(model: type[Spec], table: Any, units: dict[str, tuple[float, str]]) -> Any:
    """The table as people write it, in those units."""
    known, out = model.model_fields, {}
    for name, value in table.items():
        note = note_of(known[name])
        dimension = getattr(note, "dimension", None)
        if isinstance(value, dict):
            out[name] = written(submodel(known[name].annotation), value, units)
        elif dimension is None or isinstance(value, str):
            out[name] = value
        elif isinstance(value, tuple):
            out[name] = [text(one, *units[dimension]) for one in value]
        else:
            out[name] = text(value, *units[dimension])
    return out


def submodel(annotation: Any) -> type[Spec]:
    options = [annotation, *getattr(annotation, "__args__", ())]
    return next(item for item in options if isinstance(item, type) and issubclass(item, Spec))


def text(value: float, size: float, unit: str) -> str:
    return f"{value / size!r} {unit}".strip()


@given(machine_tables(), outfit_tables())
def test_files_in_us_and_metric_units_give_the_same_answer(machine, outfit):
    machine_of(machine), outfit_of(outfit)  # only what a file may hold
    assume(abs(outfit["spacer_mass"] - LEAST_MASS) > 1e-9)  # there rounding decides
    answers = []
    for units in (US, METRIC):
        made = build(Machine, Document("own.toml", written(Machine, machine, units)))
        fitting = build(Outfit, Document("own.toml", written(Outfit, outfit, units)))
        try:
            answers.append(tip(fit(made, fitting), slope=0.1).to_dict())
        except InputError as error:
            answers.append({"refused": str(error).split()[0]})
    us, metric = answers
    assert us.keys() == metric.keys()
    for name, value in us.items():
        if name == "notes":
            continue
        if isinstance(value, float | list):
            assert metric[name] == pytest.approx(value, rel=1e3 * ROUNDING, abs=1e-6), name
        elif isinstance(value, dict):
            assert metric[name] == pytest.approx(value, rel=ROUNDING, abs=1e-6), name
        else:
            assert metric[name] == value


@given(machine_tables())
@settings(max_examples=50)
def test_what_was_read_comes_back_from_plain_values(machine):
    """The way a record holds its machine: dumped to JSON and read again, to the last digit."""
    first = machine_of(machine)
    dumped = json.loads(json.dumps(first.model_dump(mode="json")))
    again = build(Machine, Document("record", dumped), si=True)
    assert again == first
