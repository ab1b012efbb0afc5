"""The tip report for people."""

from collections.abc import Sequence
from math import degrees
from typing import Any

from sidehill.cli import console
from sidehill.files.units import NOT_COMPUTED, round_to, show, show_slope
from sidehill.run.words import threshold
from sidehill.scenario.ground import Ground

_SLOPES = {
    "lift_off_slope_deg": ("lift-off slope", "the {first} wheel's load reaches zero"),
    "second_stage_slope_deg": ("second-stage slope", "only if lowered gently: never the limit"),
    "overturn_slope_deg": ("overturn slope", "the fall from lift-off carries it over"),
    "comes_back_slope_deg": ("comes-back slope", "a lifted wheel is down again below it"),
    "rigid_slope_deg": ("rigid slope", "if the front axle could not swing: overstates"),
    "slide_slope_deg": ("slide slope", "parked, sideways: an upper bound"),
    "grade_hold_deg": ("grade-hold slope", "parked uphill on its brakes"),
}


def tell(data: dict[str, Any], ground: Ground, warnings: Sequence[str], *, us: bool) -> None:
    """Print it."""
    out = console.out()
    place = f"side slope {show_slope(ground.slope)}, grade {show_slope(ground.grade)}"
    out.print(f"{data['machine']}, standing still, {data['tyres']} tyres", style="bold")
    for reason in data["flaws"]:
        out.print(f"DOES NOT STAND THERE: {reason}", style="bold red")
    forward, left, up = (show(place, "distance", us=us) for place in data["cg_m"])
    facts = {
        "mass": show(data["mass_kg"], "mass", us=us, rounding="up"),
        "CG ahead of the rear axle": forward,
        "CG to the left": left,
        "CG above the ground": up,
    }
    first = (data["lifts_first"] or "first").replace("_", " ")
    for key, (name, meaning) in _SLOPES.items():
        if key in data:
            facts[name] = f"{threshold(data[key]):<19} {meaning.format(first=first)}"
    console.lines(out, facts)
    out.print(f"on {place}, downhill {ground.downhill}:", style="bold")
    console.lines(out, _here(data, us))
    for what in ("picture", "table"):
        if data[what]:
            out.print(f"{what}: {data[what]}")
    console.close(out, warnings, data["notes"], data["defaults"])


def _here(data: dict[str, Any], us: bool) -> dict[str, str]:
    """What depends on where it stands."""
    loads = data["wheel_loads_n"] or {}
    found = {
        f"load {wheel.replace('_', ' ')}": show(load, "force", us=us, rounding="up")
        for wheel, load in loads.items()
    }
    energy, rate = data["energy_to_tip_j"], data["critical_roll_rate_rad_s"]
    return (found or {"wheel loads": NOT_COMPUTED}) | {
        "energy to tip": NOT_COMPUTED
        if energy is None
        else show(energy, "energy", us=us, rounding="down"),
        "critical roll rate": NOT_COMPUTED
        if rate is None
        else f"{round_to(degrees(rate), 0, 'down'):.0f} deg/s",
    }
