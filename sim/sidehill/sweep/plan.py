"""The tables of a study file: options to compare, ranges to vary, a limit to find."""

from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from sidehill.errors import InputError
from sidehill.fields import FieldError, Text
from sidehill.machine.outfit import Outfit
from sidehill.spec import FileSpec, Spec
from sidehill.units import to_si

# keys of a [vary] table -> what it stands for
FORMS = {
    ("from", "to", "steps"): "range",
    ("mean", "spread"): "normal",
    ("low", "high"): "uniform",
}
DIMENSION_OF = {"slope": "slope", "speed": "speed", "bump": "length"}  # of a limit's quantity

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
    """How the varied fields are drawn."""

    method: Literal["grid", "latin", "sobol"] = "grid"
    n: Annotated[int, Field(strict=True, ge=1, le=10_000_000)] = 256
    seed: Annotated[int, Field(strict=True, ge=0, le=2**31 - 1)] = 1


class Find(Spec):
    """A limit to look for; bounds and tolerance are quantities of what it is a limit of."""

    of: Literal["slope", "speed", "bump"] = "slope"
    until: Literal["lift", "stop", "overturn"] = "lift"
    low: Quoted | None = None
    high: Quoted | None = None
    tolerance: Quoted | None = None

    def si(self, name: str) -> float | None:
        """[SI] of low, high or tolerance; None where the quantity's own is to be used."""
        text = getattr(self, name)
        return None if text is None else to_si(text, DIMENSION_OF[self.of])

    @model_validator(mode="after")
    def _measures_what_it_finds(self) -> Self:
        for name in ("low", "high", "tolerance"):
            try:
                self.si(name)
            except InputError as error:
                raise FieldError(name, str(error)) from None
        return self


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
