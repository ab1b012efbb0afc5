"""Fields of files: a quantity within what is plausible, a line of text, and what is at fault."""

import math
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from sidehill.files.errors import InputError
from sidehill.files.units import DIMENSIONS, NUMBER, to_si

# key of the validation context: bare numbers are SI already. Built in Python there is no context,
# and a number is SI as everywhere in Python; a file's document always has one.
SI = "si"
_ROUND_OFF = 1e-9  # of a limit that was converted from other units


class FieldError(ValueError):
    """A value that cannot stand beside the others; names the field that is at fault.

    Args:
        key: dotted, from the table that raises it.
        message: what is wrong and what is allowed.
    """

    def __init__(self, key: str, message: str) -> None:
        super().__init__(message)
        self.key = tuple(int(part) - 1 if part.isdecimal() else part for part in key.split("."))


@dataclass(frozen=True, repr=False)
class Quantity:
    """A field that holds a number with a unit, within what is plausible.

    Annotates a float: `Annotated[float, Quantity("length", "0.5 m", "5 m")]`.
    """

    dimension: str
    low: str
    high: str
    words: Mapping[str, Any] = field(default_factory=dict, hash=False)  # taken instead

    def __repr__(self) -> str:
        return f"<{self.allowed}>"  # what a page of the API shows of a field

    @property
    def allowed(self) -> str:
        """What may be written here."""
        words = "".join(f'"{word}", ' for word in self.words)
        return f"{words}{DIMENSIONS[self.dimension].a} from {self.low} to {self.high}"

    @cached_property
    def _range(self) -> tuple[float, float]:
        """Lowest and highest number in SI, each with the round-off of a conversion."""
        low, high = to_si(self.low, self.dimension), to_si(self.high, self.dimension)
        slack = _ROUND_OFF * max(abs(low), abs(high))
        return low - slack, high + slack

    def read(self, value: Any, info: ValidationInfo) -> Any:
        """The value in SI, or what the word stands for."""
        if isinstance(value, str) and value in self.words:
            return self.words[value]
        try:
            number = self._number(value, info.context is None or bool(info.context.get(SI)))
        except InputError as error:
            raise ValueError(f"{error}; allowed: {self.allowed}") from None
        low, high = self._range
        if not low <= number <= high:
            raise ValueError(f"not plausible; allowed: {self.allowed}")
        return number

    def __get_pydantic_json_schema__(self, _: Any, __: GetJsonSchemaHandler) -> JsonSchemaValue:
        """A number with a unit as text, a word, or, of a ratio, a bare number."""
        forms: list[JsonSchemaValue] = [{"type": "string", "pattern": _pattern(self.dimension)}]
        if self.words:
            forms.append({"enum": list(self.words)})
        if self.dimension == "ratio":
            low, high = self._range
            forms.append({"type": "number", "minimum": low, "maximum": high})
        known = forms[0] if len(forms) == 1 else {"anyOf": forms}
        return {**known, "description": self.allowed}

    def _number(self, value: Any, is_si: bool) -> float:
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if not (is_si and is_number):
            return to_si(value, self.dimension)
        number = _as_float(value)
        if not math.isfinite(number):
            raise InputError("not a finite number")
        return number

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)


def _pattern(dimension: str) -> str:
    """What a quantity looks like in a file, in the words of ECMA 262."""
    number = rf"{NUMBER}\s*[^\s0-9.+-].{{0,30}}"
    unit = r"\s*[+-]?1\s*:\s*[0-9.]+\s*" if dimension == "slope" else ""
    either = "|".join(filter(None, (rf"\s*{number}", unit)))
    return f"^({either})$" if dimension != "ratio" else rf"^(\s*{NUMBER}\s*%?\s*)$"


def _as_float(value: float) -> float:
    """The number; infinite if it is a whole number too large for one."""
    try:
        return float(value)
    except OverflowError:
        return math.inf


@dataclass(frozen=True, repr=False)
class Text:
    """A field that holds one line of text."""

    longest: int

    def __repr__(self) -> str:
        return f"<{self.allowed}>"

    @property
    def allowed(self) -> str:
        """What may be written here."""
        return f"text of 1 to {self.longest} characters on one line"

    def read(self, value: Any) -> str:
        """The text, trimmed."""
        if not isinstance(value, str) or not 1 <= len(value.strip()) <= self.longest:
            raise ValueError(f"allowed: {self.allowed}")
        if not value.isprintable() and any(unicodedata.category(c).startswith("C") for c in value):
            raise ValueError(f"has control characters; allowed: {self.allowed}")
        return value.strip()

    def __get_pydantic_json_schema__(self, _: Any, __: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "minLength": 1, "description": self.allowed}

    def __get_pydantic_core_schema__(self, _: Any, __: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)
