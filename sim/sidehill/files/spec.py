"""The base of every table of a file, and how a document becomes one."""

from collections.abc import Mapping
from math import degrees
from typing import Any, Self, TypeVar

from pydantic import BaseModel, ConfigDict, PrivateAttr, ValidationError
from pydantic.fields import FieldInfo

from sidehill.files import toml
from sidehill.files.errors import InputError
from sidehill.files.fields import SI, Quantity
from sidehill.files.problems import Problem, explain, note_of, problems_of
from sidehill.files.units import DIMENSIONS, show_slope


class Spec(BaseModel):
    """A table of a file, frozen, plain SI inside; unknown keys are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    @property
    def moot(self) -> frozenset[str]:
        """Fields that have no bearing as the others stand."""
        return frozenset()

    def __repr_args__(self) -> Any:
        """What was given, as a person would write it; not every default."""
        names = (name for name in type(self).model_fields if name in self.model_fields_set)
        return [(name, getattr(self, name)) for name in names]

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy, what is changed of it checked: see `with_values`.

        Raises:
            InputError: unknown field, or a value that is not allowed.
        """
        return self.with_values(update) if update else super().model_copy(deep=deep)

    def with_values(self, values: Mapping[str, Any]) -> Self:
        """A checked copy with dotted fields changed, as {"weighed.cg_height": 0.61}.

        Numbers are SI; text carries its unit. Items of a list count from 1. Tables without a
        changed field are taken over as they are: they were checked, and they are frozen.

        Raises:
            InputError: unknown field, or a value that is not allowed.
        """
        opened = _opened(self, [path.split(".") for path in values])
        document = toml.Document(type(self).__name__.lower(), opened)
        return build(type(self), toml.put(document, values), si=True)


def flattened(changes: Mapping[str, Any]) -> dict[str, Any]:
    """Changes with tables of their own as dotted fields: {"weighed": {"cg_height": 0.6}} becomes
    {"weighed.cg_height": 0.6}."""
    found: dict[str, Any] = {}
    for name, value in changes.items():
        if isinstance(value, Mapping):
            found |= {f"{name}.{inner}": item for inner, item in flattened(value).items()}
        else:
            found[name] = value
    return found


def _opened(spec: Spec, paths: list[list[str]]) -> dict[str, Any]:
    """The fields that were given; tables and lists on the way to a path can be written to."""
    given = {
        name: getattr(spec, name)
        for name in type(spec).model_fields
        if name in spec.model_fields_set
    }
    return {name: _on_the_way(name, value, paths) for name, value in given.items()}


def _on_the_way(step: str, value: Any, paths: list[list[str]]) -> Any:
    """What stands at one step, opened if any path goes on from it."""
    beyond = [path[1:] for path in paths if path[0] == step and len(path) > 1]
    if beyond and isinstance(value, Spec):
        return _opened(value, beyond)
    if beyond and isinstance(value, tuple):
        return [_on_the_way(str(place), item, beyond) for place, item in enumerate(value, start=1)]
    return value


class FileSpec(Spec):
    """A whole file."""

    _file: str = PrivateAttr(default="")

    @property
    def file(self) -> str:
        """The file it was read from, as people gave it; empty when built in Python."""
        return self._file

    def from_file(self, name: object) -> Self:
        """Itself, knowing where it came from."""
        self._file = str(name)
        return self

    def with_values(self, values: Mapping[str, Any]) -> Self:
        """As `Spec.with_values`; the copy still knows its file."""
        return super().with_values(values).from_file(self._file)


SpecT = TypeVar("SpecT", bound=Spec)


def build(model: type[SpecT], document: toml.Document, *, si: bool = False) -> SpecT:
    """The document as a checked model.

    Args:
        si: bare numbers are taken as SI (for values that were checked before, as those
            of a record's metadata).

    Raises:
        InputError: one message, a line for each problem: file, line, field,
            value, what is allowed.
    """
    try:
        return model.model_validate(document.data, context={SI: si})
    except ValidationError as error:
        raise InputError(explain(error, model, document)) from None


def checked(model: type[SpecT], document: toml.Document) -> tuple[SpecT | None, list[Problem]]:
    """The document as a checked model, or all that is wrong with it, field by field."""
    try:
        return model.model_validate(document.data, context={SI: False}), []
    except ValidationError as error:
        return None, problems_of(error, model, document)


def defaults_used(*specs: Spec) -> list[str]:
    """The fields left to a default that has a bearing, as "run.step = 0.001 s"."""
    return [text for spec in specs for text in _defaults_in(spec, "")]


def _defaults_in(spec: Spec, prefix: str) -> list[str]:
    found: list[str] = []
    for name, known in type(spec).model_fields.items():
        if name in spec.moot:
            continue
        value = getattr(spec, name)
        for place, table in _tables(name, value):
            found += _defaults_in(table, f"{prefix}{place}.")
        if name not in spec.model_fields_set and _is_plain(value):
            found.append(f"{prefix}{name} = {_with_unit(value, known)}")
    return found


def _tables(name: str, value: Any) -> list[tuple[str, Spec]]:
    if isinstance(value, Spec):
        return [(name, value)]
    items = value if isinstance(value, tuple) else ()
    numbered = enumerate(items, start=1)
    return [(f"{name}.{number}", item) for number, item in numbered if isinstance(item, Spec)]


def _is_plain(value: Any) -> bool:
    return isinstance(value, str | int | float)


def _with_unit(value: Any, known: FieldInfo) -> str:
    note = note_of(known)
    if not isinstance(note, Quantity) or isinstance(value, str):
        return str(value)
    if note.dimension == "slope":
        return show_slope(value)
    if note.dimension == "angle":
        return f"{degrees(value):g} deg"
    return f"{value:g} {DIMENSIONS[note.dimension].si}".strip()
