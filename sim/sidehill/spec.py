"""What the files of every kind share: checked fields, and errors that people can act on."""

import json
import math
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any, Self, TypeVar, get_args

from pydantic import BaseModel, ConfigDict, GetCoreSchemaHandler, ValidationError, ValidationInfo
from pydantic.fields import FieldInfo
from pydantic_core import CoreSchema, core_schema

from sidehill import toml
from sidehill.errors import InputError
from sidehill.units import DIMENSIONS, to_si

_SI = "si"  # validation context: numbers are SI already
_SHOWN_PROBLEMS = 6


class Spec(BaseModel):
    """A table of a file, frozen, plain SI inside; unknown keys are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    def with_values(self, values: Mapping[str, Any]) -> Self:
        """A checked copy with dotted fields changed, as {"weighed.cg_height": 0.61}.

        Numbers are SI; text carries its unit. Items of a list count from 1.

        Raises:
            InputError: unknown field, or a value that is not allowed.
        """
        document = toml.Document(type(self).__name__.lower(), self.model_dump(exclude_unset=True))
        return build(type(self), toml.put(document, values), si=True)


@dataclass(frozen=True)
class Quantity:
    """A field that holds a number with a unit, within what is plausible.

    Annotates a float: `Annotated[float, Quantity("length", "0.5 m", "5 m")]`.
    """

    dimension: str
    low: str
    high: str
    words: Mapping[str, Any] = field(default_factory=dict, hash=False)  # words taken instead

    @property
    def allowed(self) -> str:
        """What may be written here."""
        words = "".join(f'"{word}", ' for word in self.words)
        kind = DIMENSIONS[self.dimension]
        return f"{words}{kind.a} from {self.low} to {self.high}"

    def read(self, value: Any, info: ValidationInfo) -> Any:
        """The value in SI, or the word's."""
        if isinstance(value, str) and value in self.words:
            return self.words[value]
        try:
            number = self._number(value, bool((info.context or {}).get(_SI)))
        except InputError as error:
            raise ValueError(f"{error}; allowed: {self.allowed}") from None
        low, high = to_si(self.low, self.dimension), to_si(self.high, self.dimension)
        if not low * (1 - 1e-9) - 1e-12 <= number <= high * (1 + 1e-9) + 1e-12:
            raise ValueError(f"not plausible; allowed: {self.allowed}")
        return number

    def _number(self, value: Any, is_si: bool) -> float:
        if is_si and isinstance(value, int | float) and math.isfinite(value):
            return float(value)
        return to_si(value, self.dimension)

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)


@dataclass(frozen=True)
class Text:
    """A field that holds one line of text."""

    longest: int

    @property
    def allowed(self) -> str:
        """What may be written here."""
        return f"1 to {self.longest} characters on one line"

    def read(self, value: Any) -> str:
        """The text, trimmed."""
        if not isinstance(value, str) or not 1 <= len(value.strip()) <= self.longest:
            raise ValueError(f"allowed: {self.allowed}")
        if any(unicodedata.category(char).startswith("C") for char in value):
            raise ValueError(f"has control characters; allowed: {self.allowed}")
        return value.strip()

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)


SpecT = TypeVar("SpecT", bound=Spec)


def build(model: type[SpecT], document: toml.Document, *, si: bool = False) -> SpecT:
    """The document as a checked model.

    Args:
        si: bare numbers are taken as SI (for values that were checked before).

    Raises:
        InputError: one message, a line for each problem: file, line, field,
            value, what is allowed.
    """
    try:
        return model.model_validate(document.data, context={_SI: si})
    except ValidationError as error:
        raise InputError(explain(error, model, document)) from None


def defaults_used(spec: Spec, prefix: str = "") -> tuple[str, ...]:
    """Dotted names and SI values of the fields that were left to their default."""
    found: list[str] = []
    for name in type(spec).model_fields:
        value = getattr(spec, name)
        if isinstance(value, Spec):
            found += defaults_used(value, f"{prefix}{name}.")
        elif name not in spec.model_fields_set and value is not None and value != ():
            found.append(f"{prefix}{name} = {value}")
    return tuple(found)


def explain(error: ValidationError, model: type[Spec], document: toml.Document) -> str:
    """The problems of a validation, a line each."""
    problems = [
        _problem(dict(item), model, document)
        for item in error.errors(include_url=False, include_context=True)
    ]
    rest = len(problems) - _SHOWN_PROBLEMS
    more = [f"and {rest} more"] if rest > 0 else []
    return "\n".join(problems[:_SHOWN_PROBLEMS] + more)


def _problem(item: dict[str, Any], model: type[Spec], document: toml.Document) -> str:
    key: toml.Key = tuple(item["loc"])
    place = f"{document.where(key)}: {toml.dotted(key)}" if key else document.name
    known = _field(model, key)
    if item["type"] == "extra_forbidden":
        return f"{place}: unknown key; {_nearest(model, key)}"
    if item["type"] == "missing":
        return f"{place}: missing; {_allowed(known)}"
    message = str(item.get("ctx", {}).get("error", item["msg"]))
    if item["type"] == "literal_error":
        message = f"allowed: {item['ctx']['expected']}"
    if not key or isinstance(item["input"], Spec | dict):
        return f"{place}: {message}"
    return f"{place} = {_quoted(item['input'])}: {message}"


def _quoted(value: Any) -> str:
    text = json.dumps(value, default=str, ensure_ascii=True)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _nearest(model: type[Spec], key: toml.Key) -> str:
    owner = model
    for part in key[:-1]:
        if not isinstance(part, int):
            owner = _submodel(owner.model_fields[part].annotation) or owner
    names = list(owner.model_fields)
    near = get_close_matches(str(key[-1]), names, n=1)
    return f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(names)}"


def _field(model: type[Spec], key: toml.Key) -> FieldInfo | None:
    owner: type[Spec] | None = model
    found = None
    for part in key:
        if isinstance(part, int):
            continue
        found = owner.model_fields.get(part) if owner else None
        owner = _submodel(found.annotation) if found else None
    return found


def _submodel(annotation: Any) -> type[Spec] | None:
    if isinstance(annotation, type) and issubclass(annotation, Spec):
        return annotation
    return next(filter(None, (_submodel(inner) for inner in get_args(annotation))), None)


def _allowed(known: FieldInfo | None) -> str:
    for note in known.metadata if known else ():
        if isinstance(note, Quantity | Text):
            return f"needs {note.allowed}"
    if known and _submodel(known.annotation):
        return "this table is needed"
    options = get_args(known.annotation) if known else ()
    return f"needs one of {', '.join(map(str, options))}" if options else "needed"
