"""One run of a case as the columns of a row; near a decision it is run in two engines."""

from typing import Any

import numpy as np

from sidehill.case import Case
from sidehill.files.errors import EngineError
from sidehill.run import Track, run
from sidehill.run.facts import Facts
from sidehill.run.outcome import Outcome, read
from sidehill.sweep.near import near

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
    outcome = read(track.state, track.flat.case)
    told = (*track.flat.fitted.warnings, *fell_back)
    row = {"engine": track.engine.name, "warnings": " | ".join(told) or None}
    row |= _outcome(track, outcome)
    return row if reference is None else row | _checked(case, track, outcome, reference)


def facts_of(outcome: Outcome) -> Facts:
    """What is compared between engines."""
    return outcome.stability, outcome.progress, outcome.met


def _checked(case: Case, track: Track, outcome: Outcome, reference: str) -> Row:
    """Near a decision, the facts in the reference engine."""
    found = facts_of(outcome)
    close = near(track, outcome)
    if not close:
        return {}
    stability, progress, met = again = _facts(case, reference)
    return {
        "near": " | ".join(close),
        "reference": reference,
        "reference_stability": stability,
        "reference_progress": progress,
        "reference_met": met,
        "reference_agrees": again == found,
    }


def _facts(case: Case, engine: str) -> Facts:
    track = run(case, engine)
    return facts_of(read(track.state, track.flat.case))


def _outcome(track: Track, outcome: Outcome) -> Row:
    """The outcome's numbers; where nothing is known they are missing, counts included."""
    if outcome.stability is None:
        return {"sim_s": outcome.sim_s, "why": outcome.why, "problem": outcome.why}
    case, state = track.flat.case[0], track.state[0]
    first = min(outcome.spells, key=lambda spell: spell.start_s, default=None)
    row: Row = {name: getattr(outcome, name) for name in _AS_THEY_ARE}
    return row | {
        "least_load_ratio": float(np.min(state["least_load"] / case["level_load"])),
        "first_up": first.wheel if first else None,
        **{f"least_load_{wheel}_n": load for wheel, load in outcome.min_load_n.items()},
        **{f"peak_load_{wheel}_n": load for wheel, load in outcome.peak_load_n.items()},
    }


_AS_THEY_ARE = (
    *("stability", "progress", "met", "why", "sim_s"),
    *("peak_roll_deg", "peak_roll_horizon_deg", "peak_pitch_deg"),
    *("least_balance_angle_deg", "least_lift_off_angle_deg"),
    *("spell_count", "longest_spell_s", "most_daylight_m"),
    *("stop_hits", "off_path_m", "path_m"),
)
