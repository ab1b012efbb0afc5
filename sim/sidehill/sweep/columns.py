"""The columns of a table of results: the source of its types and of its data dictionary."""

from collections.abc import Sequence
from dataclasses import dataclass

import pyarrow as pa

from sidehill.machine.linkage import WHEELS
from sidehill.study.field import VariedField

UNIT_OF = {"slope": "deg", "speed": "m_s", "bump": "m"}  # of a limit's quantity, in names

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
        """As Parquet has it; anything may be missing."""
        return pa.field(self.name, _TYPES[self.type])

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
    _text("engine", "engine of the run, or of the search of limits"),
    _text("option", "option of the study"),
    Column("draw", "count", "", "draw of the design, from 0; the same for every option"),
)
PROBLEM = _text("problem", "why numbers of this row are missing; missing if nothing went wrong")
WARNINGS = _text("warnings", "warnings of the outfit, ' | ' between them")

OUTCOME = (
    _text("verdict", "the one verdict of the run; only 'crossed' is a good result"),
    _number("peak_roll", "deg", "peak roll to the slope, toward the downhill side positive"),
    _number("peak_roll_horizon", "deg", "peak roll to the horizon"),
    _number("peak_pitch", "deg", "peak pitch to the slope, either way"),
    Column("least_load_ratio", "number", "", "least wheel load over that wheel's level load"),
    Column("lift_offs", "count", "", "times a wheel was below 5 % of its level load over 0.05 s"),
    _number("longest_lift_off", "s", "longest time a wheel was below 5 % of its level load"),
    _text("first_lift_off", "wheel of the first lift-off; missing if there was none"),
    Column("stop_hits", "count", "", "times the front axle came onto its stop"),
    _number("off_path", "m", "furthest off the path"),
    _number("path", "m", "path length reached by the rear axle centre"),
    _number("sim", "s", "length of the drive; of the settling where verdict is not_settled"),
    *(_number(f"least_load_{wheel}", "n", "least load of that wheel") for wheel in WHEELS),
    *(_number(f"peak_load_{wheel}", "n", "peak load of that wheel") for wheel in WHEELS),
    _text("near", "decisions so close that it was run again (sweep/near.py); ' | ' between"),
    _text("reference", "engine in which it was run again; missing if it was not"),
    _text("reference_verdict", "verdict there"),
    Column("reference_agrees", "truth", "", "whether both verdicts are the same"),
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


def of_limits(untils: Sequence[str], of: str = "slope") -> tuple[Column, ...]:
    """Columns of limits of one quantity."""
    found: list[Column] = []
    for until in untils:
        found += [
            _number(
                f"{until}_highest_good", UNIT_OF[of], f"highest {of} still good; missing: none"
            ),
            _number(f"{until}_lowest_bad", UNIT_OF[of], f"lowest {of} that is bad; missing: none"),
            _text(f"{until}_verdict_at_limit", "verdict of the run at the lowest bad value"),
            Column(
                f"{until}_is_threshold",
                "truth",
                "",
                "all good below, all bad above, as far as tried",
            ),
            _text(f"{until}_bands", "tried values with the same answer, from low to high, as JSON"),
            _text(f"{until}_reference", "engine in which the ends were run again"),
            Column(f"{until}_reference_agrees", "truth", "", "whether both ends came out the same"),
        ]
    return (*found, Column("runs", "count", "", "runs of the search"))


def of_fields(fields: Sequence[VariedField]) -> tuple[Column, ...]:
    """Columns of what varies."""
    types = {"number": "number", "whole": "count", "word": "text"}
    return tuple(
        Column(
            field.column,
            types[field.kind],
            unit_words(field.column.removeprefix(field.name).lstrip("_")),
            f"varied: {field.name}",
        )
        for field in fields
    )
