"""Statics and dynamic limits of a case, as the columns of a row."""

import json
from dataclasses import dataclass
from typing import Any

from sidehill.case import Case
from sidehill.files.known import known_degrees
from sidehill.flat import flatten
from sidehill.machine.build import fit
from sidehill.rest import rest_slopes
from sidehill.statics.axles import axle_loads
from sidehill.statics.report import tip
from sidehill.strip.limit import Limit, find_limits
from sidehill.sweep.columns import IDENTITY, PROBLEM, STATICS, UNIT_OF, WARNINGS, of_limits

DECK_FRICTION = 1.2  # of compliant statics: tipping is looked at, sliding is reported apart
Row = dict[str, Any]


@dataclass(frozen=True)
class Quest:
    """Limits to look for in a case; None: the quantity's own."""

    of: str = "slope"
    untils: tuple[str, ...] = ("lift",)
    low: float | None = None  # SI
    high: float | None = None
    tolerance: float | None = None
    scan: int = 18  # values of the first grid


def columns(untils: tuple[str, ...]) -> dict[str, str]:
    """Column -> type of a table of compared options, the same whatever failed."""
    named = {column.name: column for column in IDENTITY}
    known = (named["option"], named["engine"], PROBLEM, WARNINGS, *STATICS, *of_limits(untils))
    return {column.name: column.pandas for column in known}


def limit_row(case: Case, engine: str, quest: Quest) -> Row:
    """Statics and limits of a case.

    Args:
        engine: as of `find_limits`.
    """
    found = find_limits(
        case,
        of=quest.of,
        untils=quest.untils,
        low=quest.low,
        high=quest.high,
        tolerance=quest.tolerance,
        scan=quest.scan,
        engine=engine,
    )
    row, first = _statics(case), found[0]
    if first.fell_back is not None:
        row["warnings"] = " | ".join(filter(None, (row["warnings"], first.fell_back)))
    for limit in found:
        row |= _limit_columns(limit)
    return row | {"engine": first.engine, "runs": max(limit.runs for limit in found)}


def _statics(case: Case) -> Row:
    """Mass, axle loads, and tip slopes on rigid tyres and on the simulation's own."""
    ground = case.scenario.ground
    fitted = fit(case.machine, case.outfit, ground.downhill)
    report = tip(fitted, grade=ground.grade)
    deck = case.with_scenario({"ground.slope": 0.0, "ground.friction": DECK_FRICTION})
    rest = rest_slopes(flatten(deck))
    front, rear = axle_loads(fitted)
    return {
        "warnings": " | ".join(fitted.warnings) or None,
        "mass_kg": report.mass_kg,
        "front_axle_kg": front,
        "rear_axle_kg": rear,
        "rigid_lift_off_slope_deg": report.lift_off_slope_deg,
        "rigid_second_stage_slope_deg": report.second_stage_slope_deg,
        "rigid_overturn_slope_deg": report.overturn_slope_deg,
        "compliant_lift_off_slope_deg": known_degrees(rest.lift_off),
        "compliant_second_stage_slope_deg": known_degrees(rest.second_stage),
    }


def _limit_columns(limit: Limit) -> Row:
    """What a limit says, its columns named after its event and its unit."""
    until, unit = limit.until, UNIT_OF[limit.quantity]
    return {
        f"{until}_highest_good_{unit}": limit.highest_good,
        f"{until}_lowest_bad_{unit}": limit.lowest_bad,
        f"{until}_verdict_at_limit": limit.verdict_at_limit,
        f"{until}_is_threshold": limit.is_threshold,
        f"{until}_bands": json.dumps(limit.to_dict()["bands"]),
        f"{until}_reference": limit.reference,
        f"{until}_reference_agrees": limit.reference_agrees,
    }
