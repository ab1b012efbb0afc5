"""Strips that were not run: facts at values, put together by hand."""

from math import radians

from sidehill.run.facts import Facts
from sidehill.run.outcome import Outcome
from sidehill.strip.quantity import VARIED
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
GOOD: Facts = ("planted", "across", True)
HOPPED: Facts = ("hopped", "across", True)
LIFTED: Facts = ("lifted", "across", True)
HANGS: Facts = ("on_stop", "leaning", True)
OVER: Facts = ("overturned", "over", False)
STUCK: Facts = ("planted", "stuck", False)
NO_START: Facts = ("on_stop", "not_started", False)
FAILED: Facts = (None, None, None)


def posed_outcome(facts: Facts) -> Outcome:
    """An outcome with those facts and no numbers worth reading."""
    loads = dict.fromkeys(WHEELS, 1000.0)
    return Outcome(
        *facts, why="because", peak_roll_deg=1.0, peak_roll_horizon_deg=1.0, peak_pitch_deg=0.0,
        least_balance_angle_deg=20.0, least_balance_angle_s=1.0, least_lift_off_angle_deg=10.0,
        least_lift_off_angle_s=1.0, spells=(), spell_count=0, longest_spell_s=0.0,
        most_daylight_m=0.0, min_load_n=loads, peak_load_n=loads, stop_hits=0, off_path_m=0.0,
        path_m=9.0, fall="", final_rest_deg=float("nan"), touched=(), sim_s=9.0,
    )  # fmt: skip


def posed_strip(
    *spots: tuple[float, Facts] | tuple[float, Facts, Facts], of: str = "slope"
) -> Strip:
    """A strip of (value in the quantity's unit, facts[, facts in the reference engine])."""
    varied = VARIED[of]
    made = tuple(
        Spot(varied.to_si(value), 1e-3, "compiled", posed_outcome(facts), *again)
        for value, facts, *again in spots
    )
    return Strip(varied, 1, made, radians(1.0), radians(0.1), len(made), "compiled", "mujoco")
