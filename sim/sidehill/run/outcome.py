"""What is read off a run: verdict, peaks, lift-offs. Pure functions."""

from dataclasses import asdict, dataclass
from math import degrees
from typing import Any

import numpy as np

from sidehill.files.known import plain
from sidehill.kernels.layout import (
    BROKEN,
    FINISHED,
    MOST_LIFTS,
    OVERTURNED,
    RESTED,
    ROLLED_ON,
    STALLED,
    STILL_MOVING,
    TIMED_OUT,
    TOUCHING,
    Records,
)
from sidehill.kernels.monitor import LIFT_TIME, LOADED_TIME
from sidehill.machine.linkage import WHEELS

VERDICTS = (
    "failed",
    "not_settled",
    "overturned",
    "slid",
    "stalled",
    "on_stop",
    "wheel_lifted",
    "crossed",
)
FALLS = {RESTED: "rests", ROLLED_ON: "rolls on", STILL_MOVING: "still moving when last seen"}
UNKNOWN = ("failed", "not_settled")  # never averaged, never drawn as low risk


@dataclass(frozen=True)
class LiftOff:
    """One wheel below 5 % of its level load for longer than 0.05 s."""

    wheel: str
    start_s: float
    end_s: float


@dataclass(frozen=True)
class Outcome:
    """The outcome of one run on a course. Angles to the slope unless said; NaN: unknown."""

    verdict: str
    peak_roll_deg: float
    peak_roll_horizon_deg: float
    peak_pitch_deg: float
    lift_offs: tuple[LiftOff, ...]
    lift_off_count: int
    min_load_n: dict[str, float]
    peak_load_n: dict[str, float]
    stop_hits: int
    off_path_m: float
    path_m: float
    fall: str  # one of FALLS, illustrative; empty if none was followed
    final_rest_deg: (
        float  # roll since level at rest after a fall, illustrative; NaN if it does not rest
    )
    touched: tuple[str, ...]  # in a fall, in order of their first touch; illustrative
    sim_s: float

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON; an unknown number is None."""
        data: dict[str, Any] = plain(asdict(self))
        return data


def wheel_lifted(state: Records, step: float) -> bool:
    """Whether any wheel was light for longer than the lift time."""
    return bool(np.max(state["longest_low"][0]) * step > LIFT_TIME)


def stop_reached(state: Records) -> bool:
    """Whether the axle stop was touched."""
    return bool(state["stop_hits"][0] > 0)


def verdict(state: Records, step: float) -> str:
    """The one verdict of a run from its last state; precedence as in VERDICTS."""
    finish = int(state["finish"][0])
    if finish == BROKEN:
        return "failed"
    if state["unsettled"][0] > 0:
        return "not_settled"
    if finish == OVERTURNED or finish in FALLS:
        return "overturned"
    if state["slid"][0] > 0:
        return "slid"
    if finish in (STALLED, TIMED_OUT):
        return "stalled"
    if finish != FINISHED:
        raise ValueError(f"finish code {finish} is not the end of a run")
    if state["on_stop"][0] > 0:
        return "on_stop"
    loaded = state["full_steps"][0] * step >= LOADED_TIME
    return "crossed" if loaded and not wheel_lifted(state, step) else "wheel_lifted"


def lift_offs(state: Records, step: float) -> tuple[LiftOff, ...]:
    """Lift-offs in order of their end, one that lasts to the end of the run included."""
    values = state[0]
    kept = min(int(values["lifts"]), MOST_LIFTS)
    log = [tuple(row) for row in values["lift_log"][:kept]]
    # contact is watched up to the fall, which begins at the gauge's step
    watched = values["gauge_step"] if _fell(state) else values["step"]
    log += [
        (wheel, watched - low, values["step"])
        for wheel, low in enumerate(values["low_steps"])
        if low * step > LIFT_TIME
    ]
    return tuple(
        LiftOff(WHEELS[int(wheel)], float(start * step), float(end * step))
        for wheel, start, end in log
    )


def _fell(state: Records) -> bool:
    return int(state["finish"][0]) in FALLS


def touched(state: Records) -> tuple[str, ...]:
    """What met the ground in a fall, in order of the first touch."""
    steps = state["touch_step"][0]
    order = np.argsort(steps, kind="stable")
    return tuple(TOUCHING[part] for part in order if steps[part] > 0)


def read(state: Records, step: float) -> Outcome:
    """The outcome of a run.

    Args:
        state: (1,) last state of the run; step: [s] of the clock.
    """
    values = state[0]
    judged = verdict(state, step)
    known = judged not in UNKNOWN
    lifts = lift_offs(state, step) if known else ()

    def number(value: Any) -> float:
        return float(value) if known else float("nan")

    def by_wheel(loads: Any) -> dict[str, float]:
        return {wheel: number(load) for wheel, load in zip(WHEELS, loads, strict=True)}

    still_up = len(lifts) - min(int(values["lifts"]), MOST_LIFTS)
    return Outcome(
        verdict=judged,
        peak_roll_deg=number(degrees(values["peak_roll"])),
        peak_roll_horizon_deg=number(degrees(values["peak_roll_horizon"])),
        peak_pitch_deg=number(degrees(values["peak_pitch"])),
        lift_offs=lifts,
        lift_off_count=int(values["lifts"]) + still_up if known else 0,
        min_load_n=by_wheel(values["least_load"]),
        peak_load_n=by_wheel(values["peak_load"]),
        stop_hits=int(values["stop_hits"]) if known else 0,
        off_path_m=number(values["furthest_off"]),
        path_m=number(values["path"]),
        fall=FALLS.get(int(values["finish"]), ""),
        final_rest_deg=degrees(values["turned_over"])
        if values["finish"] == RESTED
        else float("nan"),
        touched=touched(state) if _fell(state) else (),
        sim_s=float(values["step"] * step),
    )
