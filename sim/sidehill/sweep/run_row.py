"""One run of a case as the columns of a row; near a decision it is run in two engines."""

from math import radians
from typing import Any

import numpy as np

from sidehill.case import Case
from sidehill.files.errors import EngineError
from sidehill.run import Track, run
from sidehill.run.outcome import UNKNOWN, Outcome, read, verdict
from sidehill.sweep.near import YARDSTICK, doubtful, near

STEEPEST = radians(60.0)  # slope that a scenario takes
Row = dict[str, Any]


def run_row(case: Case, engine: str, reference: str | None) -> Row:
    """Outcome of a run.

    Args:
        reference: engine for what this one cannot run, and in which runs near a decision are
            run again; None: neither.
    """
    fell_back = []
    try:
        track = run(case, engine)
    except EngineError as error:
        if reference is None:
            raise
        track, reference, fell_back = run(case, reference), None, [str(error)]
    outcome = read(track.state, case.scenario.run.step)
    told = (*track.flat.fitted.warnings, *fell_back)
    row = {"engine": track.engine.name, "warnings": " | ".join(told) or None}
    row |= _outcome(track, outcome)
    return row if reference is None else row | _checked(case, track, outcome.verdict, reference)


def _checked(case: Case, track: Track, found: str, reference: str) -> Row:
    """Near a decision, the verdict in the reference engine."""
    flat, state = track.flat, track.state
    close = near(flat.case, state, found)
    if doubtful(flat.case, state, found) and _turns(case, track.engine.name, found):
        close += ("verdict",)
    if not close:
        return {}
    judged = _judge(case, reference)
    return {
        "near": " | ".join(close),
        "reference": reference,
        "reference_verdict": judged,
        "reference_agrees": judged == found,
    }


def _turns(case: Case, engine: str, found: str) -> bool:
    """Whether a slope turned by a little gives another verdict."""
    slope = case.scenario.ground.slope
    around = (max(slope - YARDSTICK, 0.0), min(slope + YARDSTICK, STEEPEST))
    return any(_judge(case.with_slope(turned), engine) != found for turned in around)


def _judge(case: Case, engine: str) -> str:
    return verdict(run(case, engine).state, case.scenario.run.step)


def _outcome(track: Track, outcome: Outcome) -> Row:
    """The outcome's numbers; missing where they are not known, counts included."""
    row: Row = {"verdict": outcome.verdict, "sim_s": outcome.sim_s}
    if outcome.verdict in UNKNOWN:
        return row
    case, state = track.flat.case[0], track.state[0]
    first = min(outcome.lift_offs, key=lambda lift: lift.start_s, default=None)
    return row | {
        "peak_roll_deg": outcome.peak_roll_deg,
        "peak_roll_horizon_deg": outcome.peak_roll_horizon_deg,
        "peak_pitch_deg": outcome.peak_pitch_deg,
        "least_load_ratio": float(np.min(state["least_load"] / case["level_load"])),
        "lift_offs": outcome.lift_off_count,
        "longest_lift_off_s": float(np.max(state["longest_low"]) * case["step"]),
        "first_lift_off": first.wheel if first else None,
        "stop_hits": outcome.stop_hits,
        "off_path_m": outcome.off_path_m,
        "path_m": outcome.path_m,
        **{f"least_load_{wheel}_n": load for wheel, load in outcome.min_load_n.items()},
        **{f"peak_load_{wheel}_n": load for wheel, load in outcome.peak_load_n.items()},
    }
