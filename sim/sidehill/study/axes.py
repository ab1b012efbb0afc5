"""From a [vary] table to fields and the axes of a design, every value tried on the models."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sidehill.case import Settings
from sidehill.files.errors import InputError
from sidehill.files.spec import Spec
from sidehill.files.units import to_si
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.study.axis import Axis
from sidehill.study.field import MACHINE, Root, VariedField, find_field
from sidehill.study.vary import Vary


@dataclass(frozen=True)
class Models:
    """What a study's fields belong to."""

    machines: Sequence[Machine]
    scenario: Scenario
    outfits: Sequence[Outfit]


def find_axis(
    name: str, vary: Vary, models: Models, *, si: bool = False
) -> tuple[VariedField, Axis]:
    """The field of that name and the values that it is to have, in its column's unit.

    Args:
        si: bare numbers are SI, as from Python.

    Raises:
        InputError: no such field (the nearest is offered), none that can be varied, or a value
            that it does not take.
    """
    if name == MACHINE:
        return _machines(vary)
    root, path, owners = _owners(name, models)
    for owner in owners:
        for value in vary.tried:
            owner.with_values({path: value})
    field = find_field(name, owners[0], root, path, vary.tried)
    return field, _axis(field, vary, si)


def _machines(vary: Vary) -> tuple[VariedField, Axis]:
    """Whole machines, by their names."""
    if vary.form not in ("list", "weighted") or not all(isinstance(v, str) for v in vary.values):
        raise InputError("allowed here: a list of machines, shipped or a file's path")
    field = VariedField(MACHINE, "machine", "", "", "which")
    return field, _axis(field, vary, False)


def _owners(name: str, models: Models) -> tuple[Root, str, Sequence[Spec]]:
    table, _, rest = name.partition(".")
    if table == "machine":
        return "machine", rest, models.machines
    if table == "outfit":
        return "outfit", rest, models.outfits
    if table == "settings":
        return "settings", rest, (Settings(),)
    if table not in Scenario.model_fields:
        for other, fields in (("outfit", Outfit.model_fields), ("machine", Machine.model_fields)):
            if table in fields:
                raise InputError(f'no field of a scenario; did you mean "{other}.{name}"?')
    return "scenario", name, (models.scenario,)


def _axis(field: VariedField, vary: Vary, si: bool) -> Axis:
    """Form and values of the axis, in the unit of its column."""

    def read(value: Any) -> Any:
        return None if value is None else field.read(value, si=si)

    form, values = vary.form, vary.values
    if form in ("list", "weighted"):
        known = tuple(read(value) for value in values)
        return Axis(field.column, form, known, field.name, vary.weights)
    if field.kind != "number" and not (field.kind == "whole" and form == "range"):
        numbers = ", or from, to and steps" if field.kind == "whole" else ""
        raise InputError(f"allowed here: a list of values, or values and weights{numbers}")
    if form == "range":
        found = _range(field, read(values[0]), read(values[1]), values[2])
        return Axis(field.column, "list", found, field.name)
    low, high = (read(end) for end in vary.within)
    numbers_of = {"normal": _normal, "lognormal": _lognormal}.get(form, _bounded)
    axis = Axis(field.column, form, numbers_of(field, vary, si), field.name, (), low, high)
    _leaves_something(axis)
    return axis


def _leaves_something(axis: Axis) -> None:
    """What is cut off must leave a part worth drawing from."""
    if axis.low is not None and axis.high is not None and not axis.low < axis.high:
        raise InputError("low: allowed: a value below high")
    if axis.left < 0.01:
        raise InputError("low, high: they leave under 1 % of the distribution; give another one")


def _range(field: VariedField, first: Any, last: Any, steps: Any) -> tuple[Any, ...]:
    if first == last:
        raise InputError("to: allowed: another value than from")
    places = [float(f"{value:.15g}") for value in np.linspace(first, last, steps)]
    if field.kind == "number":
        return tuple(places)
    if any(value != round(value) for value in places):
        raise InputError(f"steps: {steps} do not fall on whole numbers from {first} to {last}")
    return tuple(round(value) for value in places)


def _normal(field: VariedField, vary: Vary, si: bool) -> tuple[float, ...]:
    """Mean and standard deviation; a spread in % is a share of the mean."""
    mean, spread = vary.values
    middle = field.read(mean, si=si)
    if isinstance(spread, str) and spread.strip().endswith("%"):
        if field.dimension == "slope":
            raise InputError('spread: of a slope, allowed: an angle, as "1 deg"')
        width = to_si(spread, "ratio") * abs(middle)
    else:
        width = field.read(spread, si=si)
    if not width > 0.0:
        raise InputError("spread: allowed: more than nothing")
    return middle, width


def _lognormal(field: VariedField, vary: Vary, si: bool) -> tuple[float, ...]:
    """Median, and the factor of one standard deviation of the logarithm."""
    median, factor = vary.values
    middle = field.read(median, si=si)
    if not middle > 0.0:
        raise InputError("median: allowed: more than nothing")
    if isinstance(factor, bool) or not isinstance(factor, int | float) or not 1.0 < factor <= 10.0:
        raise InputError("factor: allowed: a number over 1, up to 10, as 1.2: one deviation up")
    return middle, float(factor)


def _bounded(field: VariedField, vary: Vary, si: bool) -> tuple[float, ...]:
    """Low and high, with the mode between them if there is one."""
    found = tuple(field.read(value, si=si) for value in vary.values)
    low, *mode, high = found
    if not low < high:
        raise InputError("low: allowed: a value below high")
    if mode and not low <= mode[0] <= high:
        raise InputError("mode: allowed: from low to high")
    return found
