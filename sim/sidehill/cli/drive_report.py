"""The report of one run for people."""

from collections.abc import Sequence
from typing import Any

from rich.table import Table

from sidehill.case import Case
from sidehill.cli import console
from sidehill.files.units import NOT_COMPUTED, show, show_slope
from sidehill.run import words

_TILTED = {
    "lift_off_slope_deg": "lift-off: the uphill rear wheel carries nothing",
    "on_stop_slope_deg": "the body comes onto its axle stop",
    "last_on_stop_slope_deg": "last slope with load on the uphill front wheel, on the stop",
}


def tell(data: dict[str, Any], case: Case, warnings: Sequence[str], *, us: bool) -> None:
    """Print it."""
    out, scenario = console.out(), case.scenario
    place = f"slope {show_slope(scenario.ground.slope)}, engine {data['engine']}"
    out.print(f"{case.machine.name}, {scenario.title}, {place}", style="bold")
    if "stability" in data:
        out.print(f"stability  {data['stability'] or NOT_COMPUTED}")
        out.print(f"progress   {data['progress'] or NOT_COMPUTED}")
        out.print(data["why"])
        console.lines(out, _figures(data, us))
        out.print(_wheels(data, us))
    else:
        console.lines(out, {name: words.threshold(data[key]) for key, name in _TILTED.items()})
        out.print(_ending(data, scenario.course.method))
    out.print(f"case {data['case']}")
    out.print(f"{data['sim_s']:.1f} s of simulated time took {data['wall_s']:.1f} s")
    for file in data["files"]:
        out.print(f"wrote {file}")
    console.close(out, warnings, data["notes"], data["defaults"])


def _figures(data: dict[str, Any], us: bool) -> dict[str, str]:
    known = data["path_m"] is not None
    return {
        "peak roll to the slope": words.peak(data["peak_roll_deg"]),
        "peak roll to the horizon": words.peak(data["peak_roll_horizon_deg"]),
        "peak pitch": words.peak(data["peak_pitch_deg"]),
        "balance angle, least": words.least(data["least_balance_angle_deg"]),
        "lift-off angle, least": words.least(data["least_lift_off_angle_deg"]),
        "all features met": {True: "yes", False: "no", None: NOT_COMPUTED}[data["met"]],
        **({"the fall (illustrative)": _fall(data)} if data["fall"] else {}),
        "hits of the axle stop": str(data["stop_hits"]) if known else NOT_COMPUTED,
        "driven": show(data["path_m"], "distance", us=us) if known else NOT_COMPUTED,
        "furthest off the path": show(data["off_path_m"], "length", us=us, rounding="up")
        if known
        else NOT_COMPUTED,
    }


def _fall(data: dict[str, Any]) -> str:
    """What met the ground, in order, and how it ended."""
    rest = data["final_rest_deg"]
    at = "" if rest is None else f" at {rest:.0f} deg of roll"
    return f"{data['fall']}{at}; first on the ground: {', '.join(data['touched']) or 'nothing'}"


def _wheels(data: dict[str, Any], us: bool) -> Table:
    """Loads and spells in the air by wheel."""
    table = Table("wheel", "least load", "peak load", "up")
    for wheel, least in data["min_load_n"].items():
        most = data["peak_load_n"][wheel]
        spells = [_spell(spell, us) for spell in data["spells"] if spell["wheel"] == wheel]
        table.add_row(
            wheel.replace("_", " "),
            NOT_COMPUTED if least is None else show(least, "force", us=us, rounding="down"),
            NOT_COMPUTED if most is None else show(most, "force", us=us, rounding="up"),
            ", ".join(spells) or (NOT_COMPUTED if least is None else "never"),
        )
    return table


def _spell(spell: dict[str, Any], us: bool) -> str:
    end = "the end, still up" if spell["still_up"] else f"{spell['end_s']:.2f} s"
    gap = show(spell["daylight_m"], "length", us=us, rounding="up")
    return f"{spell['start_s']:.2f} s to {end}, {gap}"


def _ending(data: dict[str, Any], method: str) -> str:
    if data["problem"]:
        return str(data["problem"])
    went = "it went over" if data["went_over"] else "it did not go over"
    how = {
        "fall": "falling freely onto the stop",
        "lower": "the body lowered gently onto the stop: never the limit",
        "release": "held level, then let go",
    }
    return f"{went} ({how[method]})"
