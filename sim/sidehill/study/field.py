"""A field that a study varies: where it is, what it measures, what its column is called."""

from dataclasses import dataclass
from math import degrees, radians
from typing import Any, Literal, get_args, get_origin

from sidehill.files.errors import InputError
from sidehill.files.fields import Quantity, Text
from sidehill.files.problems import note_of
from sidehill.files.spec import Spec
from sidehill.files.units import to_si

Root = Literal["machine", "outfit", "scenario"]
Kind = Literal["number", "whole", "word"]  # whole: counts and seeds

# unit in a column's name, by what is measured; angles are in degrees
SUFFIX = {
    "length": "m",
    "mass": "kg",
    "angle": "deg",
    "slope": "deg",
    "speed": "m_s",
    "force": "n",
    "stiffness": "n_per_m",
    "torque": "nm",
    "energy": "j",
    "inertia": "kg_m2",
    "volume": "m3",
    "density": "kg_m3",
    "time": "s",
    "frequency": "hz",
    "psd": "m3",
    "pressure": "pa",
    "ratio": "",
}
ANGLES = ("angle", "slope")
_NOT_A_NUMBER = "is neither a number nor a choice of words, so it cannot be varied"


@dataclass(frozen=True)
class VariedField:
    """One dotted field, as `ground.slope`, `outfit.rear_spacer` or `machine.weighed.cg_height`.

    Its values are kept in the unit of its column: SI, but angles in degrees.
    """

    name: str  # as the study has it
    root: Root
    path: str  # within the root
    dimension: str  # a key of `units.DIMENSIONS`; empty for a count or a word
    kind: Kind

    @property
    def column(self) -> str:
        """Its name in a table, with its unit."""
        suffix = SUFFIX.get(self.dimension, "")
        return f"{self.name}_{suffix}" if suffix and self.kind == "number" else self.name

    def read(self, value: Any) -> Any:
        """A value of the file, in the column's unit.

        Raises:
            InputError: no number of what the field measures.
        """
        if self.kind == "word":
            return str(value)
        if self.kind == "number":
            number = to_si(value, self.dimension)
            # an angle as people wrote it, without the last digit of two conversions
            return float(f"{degrees(number):.15g}") if self.dimension in ANGLES else number
        if type(value) is not int:
            raise InputError(f"{value!r}: allowed: whole numbers")
        return value

    def si(self, value: Any) -> Any:
        """A value of the column as the models take it: SI, or a word."""
        is_angle = self.kind == "number" and self.dimension in ANGLES
        return radians(value) if is_angle else value


def find_field(
    name: str, owner: Spec, root: Root, path: str, tried: tuple[Any, ...]
) -> VariedField:
    """The field of that name.

    Args:
        owner: machine, outfit or scenario that has it;
        tried: the values that it is to have, which decide if a field that takes words and
            numbers is one or the other.

    Raises:
        InputError: nothing that a study can vary.
    """
    known = _known(owner, path)
    note = note_of(known)
    if isinstance(note, Quantity):
        is_word = any(isinstance(value, str) and value in note.words for value in tried)
        return VariedField(name, root, path, note.dimension, "word" if is_word else "number")
    if known.annotation is int:
        return VariedField(name, root, path, "", "whole")
    if isinstance(note, Text) or not _is_choice(known.annotation):
        raise InputError(_NOT_A_NUMBER)
    return VariedField(name, root, path, "", "word")


def _known(owner: Any, path: str) -> Any:
    """What is known of a field; its tables are there, since its values were tried."""
    *tables, last = path.split(".")
    for part in tables:
        is_item = isinstance(owner, tuple) and part.isdecimal()
        owner = owner[int(part) - 1] if is_item else getattr(owner, part, None)
    if not isinstance(owner, Spec) or last not in type(owner).model_fields:
        raise InputError(_NOT_A_NUMBER)
    return type(owner).model_fields[last]


def _is_choice(annotation: Any) -> bool:
    return any(get_origin(item) is Literal for item in (annotation, *get_args(annotation)))
