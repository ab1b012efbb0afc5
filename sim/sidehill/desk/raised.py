"""A height of the centre of gravity from scales, level and with the front raised, on the desk.

The same readings and the same block as `sidehill weigh` has.
"""

import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from sidehill.desk.fields import WEIGH
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.problems import Problem
from sidehill.files.spec import checked
from sidehill.files.units import show
from sidehill.machine.file import Machine
from sidehill.machine.loader import lump
from sidehill.machine.outfit import Outfit
from sidehill.machine.weigh import Readings, raised_scale_height
from sidehill.machine.weighed_block import weighed_block

_LEVEL = {  # reading -> field of the tractor that it is
    "level_front": "weighed.front_axle",
    "level_rear": "weighed.rear_axle",
    "wheelbase": "body.wheelbase",
}
HEIGHT = ("weighed.cg_height", "weighed.cg_height_from")
_NO_FILE = "scale readings"


def is_asked(typed: Mapping[str, str]) -> bool:
    """Whether anything of it was typed."""
    return any(path.startswith(WEIGH) for path in typed)


def weighed_raised(
    machine: Machine, typed: Mapping[str, str], loader_was_on: bool
) -> tuple[dict[str, Any], str, dict[str, str]]:
    """The [weighed] table that the readings make, words of it, and what is wrong, by field.

    Args:
        machine: as typed and copied, its axles as the scales showed them.
    """
    twice = [path for path in HEIGHT if path in typed]
    if twice:
        words = "allowed: this height, or the readings with the front raised; empty one of them"
        return {}, "", dict.fromkeys(twice, words)
    readings, problems = checked(Readings, toml.Document(_NO_FILE, _values(typed)))
    if problems:
        return {}, "", _told(problems)
    if loader_was_on and machine.loader is not None:
        mass, ahead, up = lump(machine, Outfit().bucket_height)
        loader = {"loader_mass": mass, "loader_ahead": ahead, "loader_height": up}
        document = toml.Document(_NO_FILE, _values(typed) | _in_si(loader))
        readings, problems = checked(Readings, document)
    if readings is None:
        return {}, "", _told(problems)
    try:
        table: dict[str, Any] = tomllib.loads(weighed_block(readings, machine))["weighed"]
    except InputError as error:
        return {}, "", {_field(str(error).split(" ", 1)[0]): str(error)}
    found = show(raised_scale_height(readings).error, "length", rounding="up")
    return table, f"CG height from scales, front raised, good to {found}", {}


def _values(typed: Mapping[str, str]) -> dict[str, Any]:
    """The readings as typed."""
    raised = {p.removeprefix(WEIGH): text for p, text in typed.items() if p.startswith(WEIGH)}
    return raised | {name: typed[path] for name, path in _LEVEL.items() if path in typed}


def _in_si(loader: Mapping[str, float]) -> dict[str, str]:
    return {name: f"{value!r} {'kg' if name == 'loader_mass' else 'm'}"
            for name, value in loader.items()}  # fmt: skip


def _told(problems: Sequence[Problem]) -> dict[str, str]:
    """The first problem of each field, without the command line's own advice."""
    pairs = [(_field(toml.dotted(one.key)), one.words) for one in reversed(problems)]
    return {path: words.partition("; if the front was up")[0] for path, words in pairs}


def _field(reading: str) -> str:
    """The field of the page that a reading stands in; what is none is told beside the raised
    reading."""
    if reading in _LEVEL:
        return _LEVEL[reading]
    is_field = reading in ("raised_front", "tilt", "front_radius", "rear_radius")
    return WEIGH + (reading if is_field else "raised_front")
