"""What differs between runs, field by field, in words."""

from collections.abc import Mapping, Sequence
from typing import Any

from sidehill.files.fields import Quantity
from sidehill.files.problems import note_of
from sidehill.files.spec import Spec
from sidehill.files.units import DIMENSIONS, show, show_angle, show_slope
from sidehill.film.recorded import Recorded, look_up
from sidehill.film.same import UNSEEN, leaves
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario

Row = tuple[str, list[str]]  # name of a field, its value in each run
SHOWN = ("length", "mass", "speed", "force", "torque", "stiffness", "density")


def differences(records: Sequence[Recorded]) -> list[Row]:
    """The fields of machine, outfit and scenario in which the runs differ, with their values."""
    return [(worded(name), values) for name, values in differing(records)]


def differing(records: Sequence[Recorded]) -> list[Row]:
    """The same by dotted field."""
    return apart_in([dict(fields(record)) for record in records])


def apart_in(flat: Sequence[Mapping[str, Any]]) -> list[Row]:
    """Dotted fields that are not the same in all, and the values in words."""
    names = dict.fromkeys(name for item in flat for name in item)
    return [
        (name, [value_of(name, item.get(name)) for item in flat])
        for name in names
        if len({repr(item.get(name)) for item in flat}) > 1
    ]


def fields(record: Recorded) -> list[tuple[str, Any]]:
    """Dotted names and values of all that people set."""
    scenario = look_up(record, "case", "scenario")
    seen = {key: value for key, value in scenario.items() if key not in UNSEEN}
    return [
        ("machine", look_up(record, "case", "machine", "name")),
        *leaves(look_up(record, "case", "outfit"), "outfit"),
        *leaves(seen, "scenario"),
    ]


def worded(name: str) -> str:
    """A dotted field as people say it."""
    words = name.split(".")
    own = words[1:] if words[0] in ("outfit", "scenario") else words
    return " ".join(own).replace("_", " ")


def value_of(name: str, value: Any) -> str:
    """A value with its unit; slopes in both of theirs."""
    if value is None:
        return "as the machine has it" if name.startswith("outfit.") else "none"
    root, _, path = name.partition(".")
    dimension = measured({"outfit": Outfit, "scenario": Scenario}.get(root), path.split("."))
    if isinstance(value, str | bool) or not dimension:
        return str(value)
    if dimension in ("angle", "slope"):
        return show_slope(value) if dimension == "slope" else show_angle(value)
    if dimension in SHOWN:
        return show(value, dimension)
    return f"{value:g} {DIMENSIONS[dimension].si}".strip()


def measured(model: Any, path: Sequence[str]) -> str:
    """What a dotted field of a model measures, a key of `DIMENSIONS`; empty if nothing."""
    for part in path:
        if part.isdecimal():
            continue
        known = model.model_fields.get(part) if is_table(model) else None
        if known is None:
            return ""
        note = note_of(known)
        if isinstance(note, Quantity):
            return note.dimension
        model = table_of(known.annotation)
    return ""


def table_of(annotation: Any) -> Any:
    """The table that a field holds, alone or in a list; None if none."""
    if is_table(annotation):
        return annotation
    inner = [table_of(item) for item in getattr(annotation, "__args__", ())]
    return next((item for item in inner if item is not None), None)


def is_table(annotation: Any) -> bool:
    """Whether it is a class of tables."""
    return isinstance(annotation, type) and issubclass(annotation, Spec)
