"""The tip report on the simulation's own tyres instead of rigid ones."""

from math import isfinite
from typing import Any

from sidehill.case import Case
from sidehill.files.known import known_degrees
from sidehill.flat import Flat, flatten
from sidehill.machine.file import Machine
from sidehill.machine.linkage import WHEELS
from sidehill.machine.outfit import Outfit
from sidehill.rest import SLOPE_STEP, Rest, RestSlopes
from sidehill.scenario.file import load_scenario
from sidehill.scenario.ground import Ground
from sidehill.sweep.statics import DECK_FRICTION, on_deck, standing_slopes

_RIGID_ONLY = ("overturn_slope_deg", "energy_to_tip_j", "critical_roll_rate_rad_s")


def on_compliant_tyres(
    rigid: dict[str, Any], machine: Machine, outfit: Outfit, ground: Ground
) -> dict[str, Any]:
    """A rigid report with what compliant tyres change; what they leave unknown is None.

    A machine that does not stand there on rigid tyres is not asked on compliant ones.

    Raises:
        SidehillError: it has no rest on that grade, even without a side slope.
    """
    if rigid["flaws"]:
        return rigid
    turned = {"ground.grade": ground.grade, "ground.downhill": ground.downhill}
    case = Case(machine, load_scenario("bank-plain").with_values(turned), outfit)
    found, flat = standing_slopes(case), flatten(on_deck(case))
    return rigid | {
        "lift_off_slope_deg": known_degrees(found.lift_off),
        "lifts_first": _first(found, ground),
        "second_stage_slope_deg": known_degrees(found.second_stage),
        "comes_back_slope_deg": known_degrees(found.comes_back),
        "wheel_loads_n": _loads(flat, ground.slope),
        **dict.fromkeys(_RIGID_ONLY),
        "notes": [
            *flat.fitted.notes,
            "compliant tyres: overturn slope, energy and roll rate are not computed; "
            "find where it goes over with `limit`",
            f"compliant tyres: taken not to slide (friction {DECK_FRICTION:g}); "
            "slide, grade-hold and rigid slopes are those of rigid tyres",
        ],
    }


def _first(found: RestSlopes, ground: Ground) -> str | None:
    """The wheel that carries nothing at lift-off: an uphill one."""
    if not isfinite(found.lift_off):
        return None
    side = "left" if ground.downhill == "right" else "right"
    return f"{'front' if found.front_first else 'rear'}_{side}"


def _loads(flat: Flat, slope: float) -> dict[str, float] | None:
    """[N] by wheel, resting on that slope; None where four wheels do not."""
    rest = Rest(flat)
    while rest.slope < slope:
        if not rest.move(min(rest.slope + SLOPE_STEP, slope)) or min(rest.uphill_loads) <= 0.0:
            return None
    return dict(zip(WHEELS, rest.state["load"][0].tolist(), strict=True))
