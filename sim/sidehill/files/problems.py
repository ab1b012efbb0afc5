"""What is wrong with a file, in words for a person: file, line, field, value, what is allowed."""

import json
from collections.abc import Callable, Iterator
from difflib import get_close_matches
from typing import Any, Literal, NamedTuple, TypeVar, get_args, get_origin

from pydantic import BaseModel, ValidationError, ValidationInfo
from pydantic.fields import FieldInfo

from sidehill.files.errors import InputError
from sidehill.files.fields import FieldError, Quantity, Text
from sidehill.files.toml import Document, Key, dotted

_SHOWN = 6  # problems of one file; the rest is counted
_LONGEST = 60  # characters of a value

Made = TypeVar("Made", bound=BaseModel)


class Problem(NamedTuple):
    """One thing that is wrong."""

    key: Key  # of the field; empty: of the whole
    place: str  # file, line, field, value
    words: str  # what is wrong with it, and what is allowed


def explain(error: ValidationError, model: type[BaseModel], document: Document) -> str:
    """The problems of a validation, a line each."""
    problems = problems_of(error, model, document)
    lines = [f"{problem.place}: {problem.words}" for problem in problems[:_SHOWN]]
    if len(problems) > _SHOWN:
        lines.append(f"and {len(problems) - _SHOWN} more problems")
    return "\n".join(lines)


def made_plainly(
    model: type[BaseModel], data: Any, build: Callable[[Any], Made], info: ValidationInfo
) -> Made:
    """What `build` makes of data: built in Python there is no file to name, so the error is made
    here, as of a file named after the model.

    Raises:
        InputError: one message, a line for each problem.
    """
    try:
        return build(data)
    except ValidationError as error:
        if info.context is not None:  # of a file, which is told of as a whole
            raise
        document = Document(model.__name__.lower(), data if isinstance(data, dict) else {})
        raise InputError(explain(error, model, document)) from None


def problems_of(
    error: ValidationError, model: type[BaseModel], document: Document
) -> list[Problem]:
    """The problems of a validation, each with the field that it is about."""
    return [_problem(dict(item), model, document) for item in error.errors(include_url=False)]


def note_of(known: FieldInfo | None) -> Quantity | Text | None:
    """How a field is checked, if by one of ours."""
    if known is None:
        return None
    notes = (note for note in (*known.metadata, *_flat(known.annotation)) if _is_note(note))
    return next(notes, None)


def _is_note(note: Any) -> bool:
    return isinstance(note, Quantity | Text)


def _problem(item: dict[str, Any], model: type[BaseModel], document: Document) -> Problem:
    key: Key = tuple(item["loc"])
    error = item.get("ctx", {}).get("error")
    if isinstance(error, FieldError):
        key += error.key
    place = f"{document.where(key)}: {dotted(key)}" if key else document.name
    if item["type"] == "extra_forbidden":
        return Problem(key, place, f"unknown key; {_nearest(model, key)}")
    if item["type"] == "missing":
        return Problem(key, place, f"missing; needed: {_allowed(_field(model, key))}")
    value = _written(document.data, key)
    shown = "" if value is None or isinstance(value, dict | BaseModel) else f" = {_quoted(value)}"
    return Problem(key, f"{place}{shown}", _message(item, _field(model, key)))


def _message(item: dict[str, Any], known: FieldInfo | None) -> str:
    error = item.get("ctx", {}).get("error")
    if error is not None:
        return str(error)
    if item["type"] == "literal_error":
        return f"allowed: {item['ctx']['expected']}"
    return f"{item['msg'].lower()}; allowed: {_allowed(known)}"


def _written(data: Any, key: Key) -> Any:
    """What the file has at that key; None where it has nothing."""
    for part in key:
        if isinstance(data, dict):
            data = data.get(str(part))
        elif isinstance(data, BaseModel):
            data = getattr(data, str(part), None)
        elif isinstance(data, list | tuple) and isinstance(part, int) and part < len(data):
            data = data[part]
        else:
            return None
    return data


def _quoted(value: Any) -> str:
    try:
        text = json.dumps(value, default=str)
    except ValueError:  # Python writes no whole number of more than 4,300 digits
        text = "a number of thousands of digits"
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."


def _nearest(model: type[BaseModel], key: Key) -> str:
    owner: type[BaseModel] | None = model
    for part in key[:-1]:
        if owner is not None and not isinstance(part, int):
            owner = _submodel(owner.model_fields[part])
    names = list(owner.model_fields) if owner else []
    near = get_close_matches(str(key[-1]), names, n=1)
    return f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(names)}"


def _field(model: type[BaseModel], key: Key) -> FieldInfo | None:
    owner: type[BaseModel] | None = model
    found = None
    for part in key:
        if isinstance(part, int):
            continue
        found = owner.model_fields.get(part) if owner else None
        owner = _submodel(found) if found else None
    return found


def _submodel(known: FieldInfo) -> type[BaseModel] | None:
    models = (item for item in _flat(known.annotation) if _is_model(item))
    return next(models, None)


def _is_model(item: Any) -> bool:
    return isinstance(item, type) and issubclass(item, BaseModel)


def _flat(annotation: Any) -> Iterator[Any]:
    """An annotation and all that is inside it, but not a Literal's options."""
    yield annotation
    if get_origin(annotation) is not Literal:
        for inner in get_args(annotation):
            yield from _flat(inner)


def _allowed(known: FieldInfo | None) -> str:
    """What may stand in a field."""
    note = note_of(known)
    if known is None:
        return "nothing"
    is_list = any(get_origin(item) is tuple for item in _flat(known.annotation))
    if note is not None:
        return f"a list, each {note.allowed}" if is_list else note.allowed
    if _submodel(known):
        return "tables, as [[...]]" if is_list else "a table"
    options = [option for item in _flat(known.annotation) for option in _options(item)]
    return ", ".join(options) or _whole_number(known) or "a value"


def _whole_number(known: FieldInfo) -> str:
    """The bounds of a whole number, where a field is one."""
    bounds = {
        end: getattr(item, end)
        for item in known.metadata
        for end in ("ge", "le")
        if hasattr(item, end)
    }
    return "a whole number from {ge} to {le}".format(**bounds) if len(bounds) == 2 else ""


def _options(item: Any) -> list[str]:
    return [json.dumps(option) for option in get_args(item)] if get_origin(item) is Literal else []
