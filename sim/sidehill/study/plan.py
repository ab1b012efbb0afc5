"""The tables of a study file: options to compare, ranges to vary, a limit to find."""

from collections.abc import Iterable
from typing import Annotated, Any, Self

from pydantic import (
    Field,
    PlainValidator,
    ValidationInfo,
    WithJsonSchema,
    field_validator,
    model_validator,
)

from sidehill.files.errors import InputError
from sidehill.files.fields import SI, FieldError, Text
from sidehill.files.spec import FileSpec, Spec
from sidehill.files.units import to_si
from sidehill.machine.outfit import Outfit
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.quantity import VARIED, Varied
from sidehill.study.sample import Sample
from sidehill.study.vary import Vary

RANGE = ("low", "high", "scan", "tolerance")  # of a [find] table

# one event, or several
_EVENT = {"enum": list(ALL_EVENTS)}
_EVENTS = {"anyOf": [_EVENT, {"type": "array", "items": _EVENT, "minItems": 1}]}


def _bound(value: Any, info: ValidationInfo) -> str | float:
    """A quantity as text; from Python a plain number too, which is SI."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if is_number and (info.context is None or info.context.get(SI)):
        return float(value)
    return Text(40).read(value)


# a quantity whose dimension another field decides
Quoted = Annotated[str | float, PlainValidator(_bound), WithJsonSchema({"type": "string"})]


class NamedOutfit(Outfit):
    """One [[option]]: a name, and what differs from the common outfit."""

    name: Annotated[str, Text(60)]


class Find(Spec):
    """A strip per case instead of one run alone: limits of one quantity, short of some events.

    Bounds, scan and tolerance are quantities of what it is a limit of; left out, its own. Only
    changes that decide one of the events are narrowed; an island narrower than the scan goes
    unseen.
    """

    of: Annotated[str, Text(40)] = "slope"
    feature: Annotated[int, Field(strict=True, ge=1, le=1000)] = 1  # whose height is looked at
    until: Annotated[tuple[str, ...], WithJsonSchema(_EVENTS)] = ("lifted",)
    low: Quoted | None = None
    high: Quoted | None = None
    scan: Quoted | None = None
    tolerance: Quoted | None = None

    @property
    def varied(self) -> Varied:
        """What is varied."""
        return VARIED[self.of]

    def si(self, name: str) -> float | None:
        """[SI] of one of RANGE; None where the quantity's own is to be used."""
        given = getattr(self, name)
        return to_si(given, self.varied.dimension) if isinstance(given, str) else given

    @property
    def bounds(self) -> dict[str, Any]:
        """[SI] of all of RANGE, as `take_strip` takes them."""
        return {name: self.si(name) for name in RANGE}

    @field_validator("of")
    @classmethod
    def _is_known(cls, of: str) -> str:
        if of not in VARIED:
            raise ValueError(f"allowed: {one_of(VARIED)}")
        return of

    @field_validator("until", mode="before")
    @classmethod
    def _one_or_several(cls, raw: Any) -> Any:
        return (raw,) if isinstance(raw, str) else raw

    @field_validator("until")
    @classmethod
    def _known_and_each_once(cls, until: tuple[str, ...]) -> tuple[str, ...]:
        if not until or len(set(until)) < len(until) or set(until) - set(ALL_EVENTS):
            raise ValueError(f"allowed: one or more of {one_of(ALL_EVENTS)}, each once")
        return until

    @model_validator(mode="after")
    def _measures_what_it_finds(self) -> Self:
        for name in RANGE:
            try:
                self.si(name)
            except InputError as error:
                raise FieldError(name, str(error)) from None
        return self


def one_of(names: Iterable[str]) -> str:
    """Choices in words: 'a', 'b' or 'c'."""
    *most, last = (f"'{name}'" for name in names)
    return f"{', '.join(most)} or {last}" if most else last


class Tables(FileSpec):
    """What a study varies, how it is drawn, what is looked for."""

    vary: dict[str, Vary] = Field(default_factory=dict)
    sample: Sample | None = None
    find: Find | None = None

    @model_validator(mode="after")
    def _sample_has_something_to_draw(self) -> Self:
        if self.sample is not None and not (self.vary or self.sample.table):
            raise FieldError("sample", "nothing to draw: give [vary], or leave it out")
        return self


class StudyFile(Tables):
    """A study file as written; `study.load_study` goes on from here."""

    title: Annotated[str, Text(80)]
    machine: Annotated[str, Text(400)]  # a shipped name, or a path from the study's folder
    scenario: Annotated[str, Text(400)]
    outfit: Outfit = Field(default_factory=Outfit)  # common to all options
    option: tuple[NamedOutfit, ...] = ()

    @model_validator(mode="after")
    def _option_names_differ(self) -> Self:
        names = [option.name for option in self.option]
        for number, name in enumerate(names, start=1):
            if name in names[: number - 1]:
                raise FieldError(f"option.{number}.name", "allowed: a name no other one has")
        return self
