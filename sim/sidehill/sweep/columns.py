"""The columns of a table of results: the source of its types and of its data dictionary."""

from collections.abc import Sequence
from dataclasses import dataclass

import pyarrow as pa

from sidehill.kernels.spells import SHORTEST
from sidehill.machine.linkage import WHEELS
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.strip.quantity import Varied
from sidehill.study.field import VariedField

_TYPES = {"text": pa.string(), "number": pa.float64(), "count": pa.int64(), "truth": pa.bool_()}
_PANDAS = {"text": "str", "number": "float64", "count": "Int64", "truth": "boolean"}
_UNITS = {"m_s": "m/s", "n_per_m": "N/m", "nm": "N m", "kg_m2": "kg m^2", "m3": "m^3"}
_UNITS |= {"kg_m3": "kg/m^3", "hz": "Hz", "pa": "Pa", "j": "J", "n": "N"}


@dataclass(frozen=True)
class Column:
    """One column: its name carries the unit."""

    name: str
    type: str  # text, number, count or truth
    unit: str
    meaning: str

    @property
    def arrow(self) -> pa.Field:
        """As Parquet has it, its unit and meaning beside it; anything may be missing."""
        said = {"unit": self.unit, "meaning": self.meaning}
        return pa.field(self.name, _TYPES[self.type], metadata=said)

    @property
    def pandas(self) -> str:
        """Its type in a data frame."""
        return _PANDAS[self.type]


def unit_words(suffix: str) -> str:
    """The unit of a name's suffix, as people write it."""
    return _UNITS.get(suffix, suffix)


def _text(name: str, meaning: str) -> Column:
    return Column(name, "text", "", meaning)


def _number(stem: str, suffix: str, meaning: str) -> Column:
    return Column(f"{stem}_{suffix}", "number", unit_words(suffix), meaning)


IDENTITY = (
    _text("case", "hash of the whole case and of the physics; missing if it could not be built"),
    _text("physics", "version of all that makes a row of a case"),
    _text("engine", "engine of the run; of the strip where nothing else was run"),
    _text("option", "option of the study"),
    Column("draw", "count", "", "draw of the design, from 0; the same for every option"),
    Column("replicate", "count", "", "which of the randomised replicates of the design, from 0"),
)
PROBLEM = _text("problem", "why numbers of this row are missing; missing if nothing went wrong")
WARNINGS = _text("warnings", "warnings of the outfit, ' | ' between them")

OUTCOME = (
    _text("stability", f"the worst that its wheels did: {', '.join(STABILITY)}"),
    _text("progress", f"whether it got there: {', '.join(PROGRESS)}"),
    Column("met", "truth", "", "whether it left every feature on its wheels' way behind"),
    _text("why", "what happened, in one line"),
    _number("peak_roll", "deg", "larger lean to either side, to the slope; positive: downhill"),
    _number("peak_roll_horizon", "deg", "the same to the horizon"),
    _number("peak_pitch", "deg", "peak pitch to the slope, either way"),
    _number("least_balance_angle", "deg", "least turn left until gravity carries it over"),
    _number("least_lift_off_angle", "deg", "the same of the body about its pin: a rear wheel up"),
    Column("least_load_ratio", "number", "", "least wheel load over that wheel's level load"),
    Column("spell_count", "count", "", f"times a wheel was up for {SHORTEST:g} s or longer"),
    _number("longest_spell", "s", "longest of them"),
    _number("most_daylight", "m", "most daylight under a wheel in them"),
    _text("first_up", "wheel of the first of them; missing if there was none"),
    Column("stop_hits", "count", "", "times the front axle came onto its stop"),
    _number("off_path", "m", "furthest off the path"),
    _number("path", "m", "path length reached by the rear axle centre"),
    _number("sim", "s", "length of the drive; of the settling where it could not start"),
    *(_number(f"least_load_{wheel}", "n", "least load of that wheel") for wheel in WHEELS),
    *(_number(f"peak_load_{wheel}", "n", "peak load of that wheel") for wheel in WHEELS),
    _text("near", "decisions so close that it was run again (sweep/near.py); ' | ' between"),
    _text("reference", "engine in which it was run again; missing if it was not"),
    _text("reference_stability", "stability there"),
    _text("reference_progress", "progress there"),
    Column("reference_met", "truth", "", "met there"),
    Column("reference_agrees", "truth", "", "whether all three are the same"),
)

STATICS = (
    _number("mass", "kg", "of machine, outfit and operator"),
    _number("front_axle", "kg", "on the front axle, on level ground"),
    _number("rear_axle", "kg", "on the rear axle, on level ground"),
    _number("rigid_lift_off_slope", "deg", "standing on rigid tyres: uphill rear wheel lifts"),
    _number("rigid_second_stage_slope", "deg", "on rigid tyres and its axle stop: tips over"),
    _number("rigid_overturn_slope", "deg", "on rigid tyres: fall from lift-off carries it over"),
    _number("compliant_lift_off_slope", "deg", "standing on the simulation's tyres: lifts"),
    _number("compliant_second_stage_slope", "deg", "on them and its axle stop: tips over"),
)


def of_limits(events: Sequence[str], varied: Varied) -> tuple[Column, ...]:
    """Columns of a strip over one quantity and of the limits read off it."""
    words, unit = varied.words, varied.suffix
    found: list[Column] = []
    for event in events:
        found += [
            _number(
                f"{event}_good_up_to", unit, f"all {words} tried up to it are proved short of it"
            ),
            _number(f"{event}_first_bad", unit, f"lowest {words} at which it came"),
            _number(
                f"{event}_unknown_from", unit, f"past the good ones, {words} that proves nothing"
            ),
            _text(f"{event}_good_again", "ranges above that are short of it, [from, to] as JSON"),
        ]
    return (
        *found,
        _number("tried_from", unit, f"lowest {words} of the strip"),
        _number("tried_to", unit, f"highest {words} of the strip"),
        _text("strip_bands", "[from, to, stability, progress, met] of the whole strip, as JSON"),
        Column("strip_runs", "count", "", "runs of the strip"),
        _text("strip_engine", "engine of the strip"),
        _text("strip_reference", "engine in which both sides of its changes were run again"),
        _text("strip_differs_at", "values at which that one says otherwise, as JSON"),
        Column("strip_reference_agrees", "truth", "", "whether there are none"),
    )


def of_fields(fields: Sequence[VariedField]) -> tuple[Column, ...]:
    """Columns of what varies."""
    types = {"number": "number", "whole": "count"}
    found = []
    for field in fields:
        kind = types.get(field.kind, "text")
        found.append(Column(field.column, kind, _unit(field, field.column), _varied(field)))
        measured = field.measured_column
        if measured is not None:
            unit = _unit(field, measured)
            meaning = f"what {field.name} stands for, measured; missing where it is no number"
            found.append(Column(measured, "number", unit, meaning))
    return tuple(found)


def _unit(field: VariedField, column: str) -> str:
    return unit_words(column.removeprefix(field.name).lstrip("_"))


def _varied(field: VariedField) -> str:
    return f"varied: {field.name}"
