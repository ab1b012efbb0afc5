"""From a [vary] table to fields and the axes of a design, every value tried on the models."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from sidehill.files.errors import InputError
from sidehill.files.spec import Spec
from sidehill.files.units import to_si
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.study.draw import Axis
from sidehill.study.field import Root, VariedField, find_field
from sidehill.study.plan import Vary


def find_axis(
    name: str, vary: Vary, machine: Machine, scenario: Scenario, outfits: Sequence[Outfit]
) -> tuple[VariedField, Axis]:
    """The field of that name and the values that it is to have, in its column's unit.

    Raises:
        InputError: no such field (the nearest is offered), none that can be varied, or a value
            that it does not take.
    """
    root, path, owners = _owners(name, machine, scenario, outfits)
    for owner in owners:
        for value in vary.tried:
            owner.with_values({path: value})
    field = find_field(name, owners[0], root, path, vary.tried)
    return field, Axis(field.column, *_values(field, vary))


def _owners(
    name: str, machine: Machine, scenario: Scenario, outfits: Sequence[Outfit]
) -> tuple[Root, str, Sequence[Spec]]:
    table, _, rest = name.partition(".")
    if table == "machine":
        return "machine", rest, (machine,)
    if table == "outfit":
        return "outfit", rest, tuple(outfits)
    if table not in Scenario.model_fields:
        for other, fields in (("outfit", Outfit.model_fields), ("machine", Machine.model_fields)):
            if table in fields:
                raise InputError(f'no field of a scenario; did you mean "{other}.{name}"?')
    return "scenario", name, (scenario,)


def _values(field: VariedField, vary: Vary) -> tuple[Any, tuple[Any, ...]]:
    """Form and values of the axis."""
    if vary.form == "list":
        return "list", tuple(field.read(value) for value in vary.values)
    if field.kind == "word" or (field.kind == "whole" and vary.form != "range"):
        raise InputError("allowed here: a list of values" + _or_range(field))
    if vary.form == "normal":
        return "normal", _normal(field, *vary.values)
    first, second = (field.read(value) for value in vary.values[:2])
    if vary.form == "uniform":
        if not first < second:
            raise InputError("low: allowed: a value below high")
        return "uniform", (first, second)
    return "list", _range(field, first, second, vary.values[2])


def _or_range(field: VariedField) -> str:
    return "" if field.kind == "word" else ", or from, to and steps"


def _range(field: VariedField, first: Any, last: Any, steps: Any) -> tuple[Any, ...]:
    if first == last:
        raise InputError("to: allowed: another value than from")
    places = [float(f"{value:.15g}") for value in np.linspace(first, last, steps)]
    if field.kind == "number":
        return tuple(places)
    if any(value != round(value) for value in places):
        raise InputError(f"steps: {steps} do not fall on whole numbers from {first} to {last}")
    return tuple(round(value) for value in places)


def _normal(field: VariedField, mean: Any, spread: Any) -> tuple[float, float]:
    """Mean and standard deviation; a spread in % is a share of the mean."""
    middle = field.read(mean)
    if isinstance(spread, str) and spread.strip().endswith("%"):
        if field.dimension == "slope":
            raise InputError('spread: of a slope, allowed: an angle, as "1 deg"')
        width = to_si(spread, "ratio") * abs(middle)
    else:
        width = field.read(spread)
    if not width > 0.0:
        raise InputError("spread: allowed: more than nothing")
    return middle, width
