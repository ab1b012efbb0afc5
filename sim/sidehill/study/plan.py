"""The tables of a study file: options to compare, ranges to vary, a limit to find."""

from collections.abc import Iterable
from math import log2
from typing import Annotated, Any, Literal, Self

from pydantic import Field, field_validator, model_validator

from sidehill.files.errors import InputError
from sidehill.files.fields import FieldError, Text
from sidehill.files.spec import FileSpec, Spec
from sidehill.files.units import to_si
from sidehill.machine.outfit import Outfit
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.quantity import VARIED, Varied

# keys of a [vary] table -> what it stands for
FORMS = {
    ("from", "to", "steps"): "range",
    ("mean", "spread"): "normal",
    ("low", "high"): "uniform",
}
RANGE = ("low", "high", "scan", "tolerance")  # of a [find] table

Plain = str | bool | int | float
Quoted = Annotated[str, Text(40)]  # a quantity whose dimension another field decides


class NamedOutfit(Outfit):
    """One [[option]]: a name, and what differs from the common outfit."""

    name: Annotated[str, Text(60)]


class Vary(Spec):
    """How one field varies: a list, a range, or a distribution. Quantities as written."""

    form: Literal["list", "range", "normal", "uniform"]
    values: tuple[Plain, ...]  # of the list, or in the order of the form's keys

    @model_validator(mode="before")
    @classmethod
    def _recognise(cls, raw: Any) -> Any:
        if isinstance(raw, list) and raw:
            if all(isinstance(value, Plain) for value in raw):
                return {"form": "list", "values": tuple(raw)}
            raise ValueError("allowed in the list: values, as a file's field takes them")
        forms = {frozenset(keys): keys for keys in FORMS}
        keys = forms.get(frozenset(raw)) if isinstance(raw, dict) else None
        if keys is None:
            known = ", ".join(
                f"{{ {', '.join(f'{key} = ...' for key in keys)} }}" for keys in FORMS
            )
            raise ValueError(f"allowed: a list of values, or one of {known}")
        if "steps" in raw and not (type(raw["steps"]) is int and raw["steps"] >= 2):
            raise ValueError("steps: allowed: a whole number of 2 or more")
        return {"form": FORMS[keys], "values": tuple(raw[key] for key in keys)}

    @property
    def tried(self) -> tuple[Plain, ...]:
        """The values that the field itself must take: not a count of steps, not a spread."""
        return {"list": self.values, "normal": self.values[:1]}.get(self.form, self.values[:2])


class Sample(Spec):
    """How the varied fields are drawn.

    grid: lists and ranges are crossed; distributions are drawn `n` times (Latin hypercube), the
    same draws at every place of the grid. latin, sobol: `n` draws of everything at once.
    saltelli: n (d + 2) draws of d fields for sensitivity indices.
    """

    method: Literal["grid", "latin", "sobol", "saltelli"] = "grid"
    n: Annotated[int, Field(strict=True, ge=1, le=10_000_000)] = 256
    seed: Annotated[int, Field(strict=True, ge=0, le=2**31 - 1)] = 1

    @model_validator(mode="after")
    def _is_balanced(self) -> Self:
        if self.method in ("sobol", "saltelli") and self.n & (self.n - 1):
            near = 2 ** round(log2(self.n))
            raise FieldError("n", f"a Sobol sequence is even at powers of 2 only; as {near}")
        return self


class Find(Spec):
    """A strip per case instead of one run alone: limits of one quantity, short of some events.

    Bounds, scan and tolerance are quantities of what it is a limit of; left out, its own. Only
    changes that decide one of the events are narrowed; an island narrower than the scan goes
    unseen.
    """

    of: Annotated[str, Text(40)] = "slope"
    feature: Annotated[int, Field(strict=True, ge=1, le=1000)] = 1  # whose height is looked at
    until: tuple[str, ...] = ("lifted",)
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
        text = getattr(self, name)
        return None if text is None else to_si(text, self.varied.dimension)

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


class StudyFile(FileSpec):
    """A study file as written; `study.load_study` goes on from here."""

    title: Annotated[str, Text(80)]
    machine: Annotated[str, Text(400)]  # a shipped name, or a path from the study's folder
    scenario: Annotated[str, Text(400)]
    outfit: Outfit = Field(default_factory=Outfit)  # common to all options
    option: tuple[NamedOutfit, ...] = ()
    vary: dict[str, Vary] = Field(default_factory=dict)
    sample: Sample | None = None
    find: Find | None = None

    @model_validator(mode="after")
    def _option_names_differ(self) -> Self:
        names = [option.name for option in self.option]
        for number, name in enumerate(names, start=1):
            if name in names[: number - 1]:
                raise FieldError(f"option.{number}.name", "allowed: a name no other one has")
        return self

    @model_validator(mode="after")
    def _sample_has_something_to_draw(self) -> Self:
        if self.sample is not None and not self.vary:
            raise FieldError("sample", "nothing to draw: give [vary], or leave it out")
        return self
