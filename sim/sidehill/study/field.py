"""A field that a study varies: where it is, what it measures, what its column is called."""

from dataclasses import dataclass
from math import degrees, radians
from typing import Any, Literal, get_args, get_origin

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.fields import Quantity, Text
from sidehill.files.problems import note_of
from sidehill.files.spec import Spec
from sidehill.files.units import to_si
from sidehill.machine.loader import pin_height

Root = Literal["machine", "outfit", "scenario", "settings"]
# whole: counts and seeds; truth: yes or no, a word in a table; which: one of several machines
Kind = Literal["number", "whole", "word", "truth", "which"]

MACHINE = "machine"  # the field that names a whole machine
YES, NO = "yes", "no"

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
    "curvature": "rad_per_m",
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
    dimension: str  # a key of `units.DIMENSIONS`; empty for what is not measured
    kind: Kind

    @property
    def column(self) -> str:
        """Its name in a table, with its unit."""
        return self._with_unit if self.kind == "number" else self.name

    @property
    def _with_unit(self) -> str:
        suffix = SUFFIX.get(self.dimension, "")
        return f"{self.name}_{suffix}" if suffix else self.name

    @property
    def measured_column(self) -> str | None:
        """The column of what a word stands for, as the height that "carry" is; None: no such."""
        has_one = self.kind == "word" and SUFFIX.get(self.dimension)
        return self._with_unit if has_one else None

    def measured(self, case: Case) -> float | None:
        """What the word of this case stands for, in the unit of its column; None: no number."""
        value: Any = {"machine": case.machine, "outfit": case.outfit, "scenario": case.scenario}[
            self.root
        ]
        for part in self.path.split("."):
            value = value[int(part) - 1] if part.isdecimal() else getattr(value, part)
        if self.path == "bucket_height":
            value = pin_height(case.machine.loader, value) if case.machine.loader else None
        elif self.path == "liquid":
            value = case.outfit.liquid_density
        return None if isinstance(value, str) else value

    def read(self, value: Any, *, si: bool = False) -> Any:
        """A value of the file, in the column's unit.

        Args:
            si: a bare number is SI.

        Raises:
            InputError: no number of what the field measures.
        """
        if self.kind == "truth":
            return YES if value else NO
        if self.kind in ("word", "which"):
            return str(value)
        if self.kind == "number":
            plain = si and isinstance(value, int | float)
            number = float(value) if plain else to_si(value, self.dimension)
            # an angle as people wrote it, without the last digit of two conversions
            return float(f"{degrees(number):.15g}") if self.dimension in ANGLES else number
        if type(value) is not int:
            raise InputError(f"{value!r}: allowed: whole numbers")
        return value

    def si(self, value: Any) -> Any:
        """A value of the column as the models take it: SI, a word, yes or no."""
        if self.kind == "truth":
            return value == YES
        if self.kind == "whole":
            return int(value)  # a table has its own kind of whole number
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
    if bool in (known.annotation, *get_args(known.annotation)):
        return VariedField(name, root, path, "", "truth")
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
