"""One run of a case as the columns of a row; near a decision it is run in two engines."""

from typing import Any

import numpy as np

from sidehill.case import Case
from sidehill.errors import EngineError
from sidehill.outcome import UNKNOWN, Outcome, read, verdict
from sidehill.run import Track, run
from sidehill.sweep.near import near

Row = dict[str, Any]


def run_row(case: Case, engine: str, reference: str | None) -> Row:
    """Outcome of a run.

    Args:
        reference: engine for what this one cannot run, and in which runs near a decision are
            run again; None: neither.
    """
    step = case.scenario.run.step
    try:
        track = run(case, engine)
    except EngineError:
        if reference is None:
            raise
        track, reference = run(case, reference), None
    outcome = read(track.state, step)
    close = near(track.flat.case, track.state, outcome.verdict)
    return (
        {"engine": track.engine.name, "warnings": " | ".join(track.flat.fitted.warnings) or None}
        | _outcome(track, outcome)
        | {"near": " | ".join(close) or None}
        | (_again(case, reference, outcome.verdict) if reference and close else {})
    )


def _again(case: Case, reference: str, found: str) -> Row:
    """The verdict in the reference engine."""
    judged = verdict(run(case, reference).state, case.scenario.run.step)
    return {
        "reference": reference,
        "reference_verdict": judged,
        "reference_agrees": judged == found,
    }


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
