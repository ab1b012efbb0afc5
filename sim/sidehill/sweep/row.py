"""One option of a study, compared: statics and the dynamic limits, as one row."""

import json
from dataclasses import dataclass
from math import degrees, isfinite
from typing import Any

from sidehill.case import Case
from sidehill.errors import SidehillError
from sidehill.flat import flatten
from sidehill.limit import Limit, find_limits
from sidehill.machine.build import fit
from sidehill.machine.fitted import Fitted
from sidehill.rest import rest_slopes
from sidehill.statics.report import tip

DECK_FRICTION = 1.2  # of compliant statics: tipping is looked at, sliding is reported apart
Row = dict[str, Any]

STATICS = (
    "mass_kg",
    "front_axle_kg",
    "rear_axle_kg",
    "rigid_lift_off_slope_deg",
    "rigid_second_stage_slope_deg",
    "rigid_overturn_slope_deg",
    "compliant_lift_off_slope_deg",
    "compliant_second_stage_slope_deg",
)


def columns(untils: tuple[str, ...]) -> dict[str, str]:
    """Column -> type of a table of rows, the same whatever failed."""
    found = {"option": "str", "engine": "str", "problem": "str", "warnings": "str"}
    found |= dict.fromkeys(STATICS, "float64")
    for until in untils:
        found |= {
            f"{until}_highest_good_deg": "float64",
            f"{until}_lowest_bad_deg": "float64",
            f"{until}_verdict_at_limit": "str",
            f"{until}_is_threshold": "boolean",
            f"{until}_bands": "str",
        }
    return found | {"runs": "Int64"}


@dataclass(frozen=True)
class Task:
    """What one process is asked to do; plain data, so that it can be sent to another."""

    name: str
    case: Case
    engine: str
    untils: tuple[str, ...]
    tolerance: float | None  # [rad]
    scan: int


def compare_one(task: Task) -> Row:
    """The row of one option. What fails is named in `problem`; its numbers stay None."""
    row: Row = {"option": task.name, "engine": task.engine}
    try:
        row |= _statics(task.case)
        found = find_limits(
            task.case,
            untils=task.untils,
            tolerance=task.tolerance,
            scan=task.scan,
            engine=task.engine,
        )
    except SidehillError as error:
        return row | {"problem": str(error)}
    except Exception as error:  # whatever it is, it must not lose the other options' work
        return row | {"problem": f"{type(error).__name__}: {error}"}
    for limit in found:
        row |= _limit_columns(limit)
    return row | {"runs": max(limit.runs for limit in found)}


def _statics(case: Case) -> Row:
    """Mass, axle loads, and tip slopes on rigid tyres and on the simulation's own."""
    ground = case.scenario.ground
    fitted = fit(case.machine, case.outfit, ground.downhill)
    report = tip(fitted, grade=ground.grade)
    deck = case.with_scenario({"ground.slope": 0.0, "ground.friction": DECK_FRICTION})
    rest = rest_slopes(flatten(deck))
    front, rear = _axle_masses(fitted)
    return {
        "warnings": " | ".join(fitted.warnings) or None,
        "mass_kg": report.mass_kg,
        "front_axle_kg": front,
        "rear_axle_kg": rear,
        "rigid_lift_off_slope_deg": report.lift_off_slope_deg,
        "rigid_second_stage_slope_deg": report.second_stage_slope_deg,
        "rigid_overturn_slope_deg": report.overturn_slope_deg,
        "compliant_lift_off_slope_deg": _degrees(rest.lift_off),
        "compliant_second_stage_slope_deg": _degrees(rest.second_stage),
    }


def _axle_masses(fitted: Fitted) -> tuple[float, float]:
    """[kg] that scales under the front and the rear axle would read, on level ground."""
    front = fitted.mass * float(fitted.cg[0]) / fitted.machine.body.wheelbase
    return front, fitted.mass - front


def _degrees(angle: float) -> float | None:
    return degrees(angle) if isfinite(angle) else None


def _limit_columns(limit: Limit) -> Row:
    """What a limit says, its columns named after its event."""
    until, bands = limit.until, limit.to_dict()["bands"]
    return {
        f"{until}_highest_good_deg": limit.highest_good,
        f"{until}_lowest_bad_deg": limit.lowest_bad,
        f"{until}_verdict_at_limit": limit.verdict_at_limit,
        f"{until}_is_threshold": limit.is_threshold,
        f"{until}_bands": json.dumps(bands),
    }
