"""The tractor on the desk: shipped, from a file, or made of what was typed and copied."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sidehill.desk import fields, raised
from sidehill.desk.copied import copy_of
from sidehill.desk.names import inside
from sidehill.desk.state import FILE, OWN, SHIPPED, State
from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.library import find
from sidehill.files.problems import Problem
from sidehill.files.spec import checked
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.loader import lump
from sidehill.machine.outfit import Outfit

NAME, SAVED = "My tractor", "my-tractor.toml"
_WHOLE = ""  # key of what is wrong with no one field


@dataclass(frozen=True)
class Tractor:
    """What was read: a machine, or what is wrong, field by field."""

    machine: Machine | None
    problems: Mapping[str, str] = field(default_factory=dict)  # dotted field -> words
    data: Mapping[str, Any] = field(default_factory=dict)  # of the file that it would make
    origins: Mapping[str, str] = field(default_factory=dict)  # of what was not typed
    missing: tuple[fields.Field, ...] = ()  # wanted of one's own and not typed yet

    @property
    def is_whole(self) -> bool:
        """Whether it may be computed with: read, and nothing that was asked for left open."""
        return self.machine is not None and not self.missing


def read_tractor(state: State, folder: Path) -> Tractor:
    """The tractor that a state describes.

    Args:
        folder: of the desk, where an opened file is.
    """
    tractor = state["tractor"]
    kind, name = tractor["kind"], tractor["base"]
    try:
        if kind == SHIPPED:
            path = find("machine", name)
            return Tractor(load_machine(name), data=toml.read(path).data)
        if kind == FILE:
            return _from_file(folder, tractor["opened"], tractor[FILE])
        return _own(name, tractor[OWN])
    except InputError as error:
        return Tractor(None, {_WHOLE: str(error)})


def _from_file(folder: Path, name: str, typed: Mapping[str, str]) -> Tractor:
    if not name:
        raise InputError("no file is open; open one, or choose a shipped tractor")
    document = toml.put(toml.read(inside(folder, name)), _in_file(typed))
    machine, problems = checked(Machine, document)
    return Tractor(
        None if machine is None else machine.from_file(name), _by_field(problems), document.data
    )


def _own(name: str, typed: Mapping[str, str]) -> Tractor:
    """Another machine like a shipped one: typed fields over those that are copied."""
    base, document = load_machine(name), toml.read(find("machine", name))
    copied = copy_of(base, document, typed)
    data = copied.data
    for table in (fields.LOADER, fields.ROPS):
        if typed.get(table) == "no":
            data.pop(table, None)
    values = _in_file(typed)
    data |= {
        "name": values.pop("name", NAME),
        "summary": values.pop("summary", "made on the desk"),
        "source": values.pop("source", f"typed on the desk; the rest copied from {base.name}"),
    }
    document = toml.put(toml.Document(SAVED, data), values)
    machine, problems = checked(Machine, document)
    told, lacking = _by_field(problems), _missing(typed)
    if machine is not None and raised.is_asked(typed):
        machine, told = _with_front_raised(machine, document, typed)
    elif machine is not None and _weighed_with_loader(machine, typed):
        machine, told = _without_loader(machine, document)
    origins = {path: words for path, words in copied.origins.items() if path not in typed}
    found = None if machine is None else machine.from_file(SAVED)
    return Tractor(found, told, document.data, origins, lacking)


def _missing(typed: Mapping[str, str]) -> tuple[fields.Field, ...]:
    """What an answer still needs; with a loader, whether it was on the scales too."""
    wanted = [item.path for item in fields.WANTED]
    if typed.get(fields.LOADER) == "yes":
        wanted.append(fields.LOADER_ON)
    return tuple(fields.BY_PATH[path] for path in wanted if path not in typed)


def _in_file(typed: Mapping[str, str]) -> dict[str, Any]:
    """Typed fields that stand in the file, numbers of ratios as text that `to_si` takes."""
    return {path: text for path, text in typed.items() if path not in fields.NOT_IN_A_FILE}


def _weighed_with_loader(machine: Machine, typed: Mapping[str, str]) -> bool:
    return typed.get(fields.LOADER_ON) == "yes" and machine.loader is not None


def _without_loader(
    machine: Machine, document: toml.Document
) -> tuple[Machine | None, dict[str, str]]:
    """The scales' readings less the loader, bucket low and empty; written over the document."""
    mass, ahead, _ = lump(machine, Outfit().bucket_height)
    front = mass * ahead / machine.body.wheelbase
    own = machine.weighed
    document.data["weighed"] |= {
        "front_axle": f"{own.front_axle - front:.1f} kg",
        "rear_axle": f"{own.rear_axle - (mass - front):.1f} kg",
    }
    found, problems = checked(Machine, document)
    return found, _by_field(problems)


def _with_front_raised(
    machine: Machine, document: toml.Document, typed: Mapping[str, str]
) -> tuple[Machine | None, dict[str, str]]:
    """The machine with the height that the raised front gives; written over the document."""
    was_on = _weighed_with_loader(machine, typed)
    table, words, wrong = raised.weighed_raised(machine, typed, was_on)
    if wrong:
        return None, wrong
    document.data["weighed"] |= table
    if "source" not in typed:
        document.data["source"] = f"{document.data['source']}; {words}"
    found, problems = checked(Machine, document)
    return found, _by_field(problems)


def _by_field(problems: list[Problem]) -> dict[str, str]:
    """The first problem of each field, in words."""
    told: dict[str, str] = {}
    for problem in problems:
        told.setdefault(toml.dotted(problem.key), problem.words)
    return told
