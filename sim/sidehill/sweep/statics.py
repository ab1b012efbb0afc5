"""What a machine does standing still, as columns of a row: on rigid tyres and on its own."""

from typing import Any

from sidehill.case import Case
from sidehill.files.errors import SidehillError
from sidehill.files.known import known_degrees
from sidehill.files.units import show_slope
from sidehill.flat import flatten
from sidehill.machine.build import fit
from sidehill.rest import RestSlopes, rest_slopes
from sidehill.statics.axles import axle_loads
from sidehill.statics.report import tip

DECK_FRICTION = 1.2  # of compliant statics: tipping is looked at, sliding is reported apart


def on_deck(case: Case) -> Case:
    """The case on its grade without a side slope, on a deck that it does not slide on."""
    return case.with_scenario({"ground.slope": 0.0, "ground.friction": DECK_FRICTION})


def standing_slopes(case: Case) -> RestSlopes:
    """Slopes at which the case, standing still on the simulation's tyres, lifts and tips.

    Raises:
        SidehillError: it has no rest on its grade, even without a side slope.
    """
    try:
        return rest_slopes(flatten(on_deck(case)))
    except ArithmeticError:
        grade = show_slope(case.scenario.ground.grade)
        raise SidehillError(
            f"standing still: no rest was found on a grade of {grade}; its brakes may not hold it"
        ) from None


def statics_columns(case: Case) -> dict[str, Any]:
    """Mass, axle loads, and tip slopes on rigid tyres and on the simulation's own."""
    ground = case.scenario.ground
    fitted = fit(case.machine, case.outfit, ground.downhill)
    report, rest = tip(fitted, grade=ground.grade), standing_slopes(case)
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
