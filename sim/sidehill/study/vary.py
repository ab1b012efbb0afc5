"""How one field of a study varies: a list, a range, or a distribution, as it is written."""

from typing import Any, Literal

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue

from sidehill.files.spec import Spec

Plain = str | bool | int | float
Form = Literal["list", "range", "normal", "lognormal", "uniform", "triangular", "weighted"]

# keys of a [vary] table -> what it stands for
FORMS: dict[tuple[str, ...], Form] = {
    ("from", "to", "steps"): "range",
    ("mean", "spread"): "normal",
    ("median", "factor"): "lognormal",
    ("low", "high"): "uniform",
    ("low", "mode", "high"): "triangular",
    ("values", "weights"): "weighted",
}
CUT = ("low", "high")  # may stand beside an unbounded one: nothing is drawn beyond
_UNBOUNDED = ("normal", "lognormal")
_NOT_VALUES = {"range": 1, "normal": 1, "lognormal": 1}  # last ones that are a count or a width


class Vary(Spec):
    """How one field varies. Quantities as written."""

    form: Form
    values: tuple[Plain, ...]  # of the list, or in the order of the form's keys
    weights: tuple[float, ...] = ()  # of a weighted list, any scale
    within: tuple[Plain | None, Plain | None] = (None, None)  # what it is cut off at

    @model_validator(mode="before")
    @classmethod
    def _recognise(cls, raw: Any) -> Any:
        if isinstance(raw, Vary) or (isinstance(raw, dict) and "form" in raw):
            return raw  # recognised already
        raw = raw.tolist() if hasattr(raw, "tolist") else raw  # an array
        if isinstance(raw, list | tuple):
            return {"form": "list", "values": _values(raw)}
        if not isinstance(raw, dict):
            raise ValueError(_allowed())
        form, keys = _form(raw)
        if form == "weighted":
            return _weighted(raw["values"], raw["weights"])
        if "steps" in raw and not (type(raw["steps"]) is int and raw["steps"] >= 2):
            raise ValueError("steps: allowed: a whole number of 2 or more")
        within = tuple(raw.get(key) if form in _UNBOUNDED else None for key in CUT)
        return {"form": form, "values": tuple(raw[key] for key in keys), "within": within}

    @classmethod
    def __get_pydantic_json_schema__(cls, _: Any, __: GetJsonSchemaHandler) -> JsonSchemaValue:
        """As it is written: a list, or a table of one of the forms."""
        value = {"type": ["string", "number", "boolean"]}
        several = {"type": "array", "items": value, "minItems": 1}
        tables = []
        for keys, form in FORMS.items():
            more = CUT if form in _UNBOUNDED else ()
            known: dict[str, Any] = dict.fromkeys((*keys, *more), value)
            known |= {"steps": {"type": "integer", "minimum": 2}} if "steps" in keys else {}
            known |= dict.fromkeys(keys, several) if form == "weighted" else {}
            tables.append(
                {
                    "type": "object",
                    "title": form,
                    "properties": known,
                    "required": list(keys),
                    "additionalProperties": False,
                }
            )
        return {"anyOf": [several, *tables], "description": _allowed()}

    @property
    def tried(self) -> tuple[Plain, ...]:
        """The values that the field itself must take: not a count of steps, not a width."""
        known = self.values[: len(self.values) - _NOT_VALUES.get(self.form, 0)]
        return (*known, *(end for end in self.within if end is not None))

    @property
    def is_drawn(self) -> bool:
        """Whether its values are drawn at random, not gone through."""
        return self.form not in ("list", "range")


def _form(raw: dict[str, Any]) -> tuple[Form, tuple[str, ...]]:
    """The form that has these keys; those of a cut beside it."""
    for keys, form in FORMS.items():
        more = set(CUT) if form in _UNBOUNDED else set()
        if set(keys) <= set(raw) <= set(keys) | more:
            return form, keys
    raise ValueError(_allowed())


def _allowed() -> str:
    cut = {form: "".join(f", {key} = ..." for key in CUT) for form in _UNBOUNDED}
    known = (
        f"{{ {', '.join(f'{key} = ...' for key in keys)}{cut.get(form, '')} }}"
        for keys, form in FORMS.items()
    )
    return (
        f"allowed: a list of values, or one of {', '.join(known)}; of those that have a mean or "
        "a median, low and high may be left out"
    )


def _values(raw: Any) -> tuple[Plain, ...]:
    if not raw:
        raise ValueError(_allowed())
    if not all(isinstance(value, Plain) for value in raw):
        raise ValueError("allowed in the list: values, as a file's field takes them")
    return tuple(raw)


def _weighted(values: Any, weights: Any) -> dict[str, Any]:
    values, weights = (x.tolist() if hasattr(x, "tolist") else x for x in (values, weights))
    numbers = isinstance(weights, list | tuple) and all(
        isinstance(weight, int | float) and not isinstance(weight, bool) for weight in weights
    )
    if not isinstance(values, list | tuple) or not numbers or len(values) != len(weights):
        raise ValueError("values, weights: allowed: two lists of the same length, weights numbers")
    if not all(0.0 < weight < float("inf") for weight in weights):
        raise ValueError("weights: allowed: numbers above 0; leave out what has none")
    found = _values(values)
    return {"form": "weighted", "values": found, "weights": tuple(float(w) for w in weights)}
