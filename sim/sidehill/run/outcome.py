"""What is read off a run: the two facts, peaks, angles, spells with a wheel up. Pure functions."""

from dataclasses import asdict, dataclass
from math import degrees
from typing import Any

import numpy as np

from sidehill.files.known import plain
from sidehill.kernels.layout import (
    ACROSS,
    BROKEN,
    CUT,
    HALTED,
    LEANING,
    MOST_SPELLS,
    OVERTURNED,
    RESTED,
    ROLLED_ON,
    SLID,
    STILL_MOVING,
    STUCK,
    TILT,
    TOUCHING,
    TURNED,
    Records,
)
from sidehill.kernels.spells import SHORTEST
from sidehill.machine.linkage import WHEELS
from sidehill.run.facts import HIGH_SPELL, LONG_SPELL, Facts, is_good
from sidehill.run.why import why

FALLS = {RESTED: "rests", ROLLED_ON: "rolls on", STILL_MOVING: "still moving when last seen"}
_PROGRESS = {STUCK: "stuck", HALTED: "halted", LEANING: "leaning", ACROSS: "across", CUT: "cut"}


@dataclass(frozen=True)
class Spell:
    """One wheel that carried nothing, for long enough to count."""

    wheel: str
    start_s: float
    end_s: float
    still_up: bool  # at the end of what was watched
    daylight_m: float  # most under it


@dataclass(frozen=True)
class Outcome:
    """The outcome of one run. Angles to the slope unless said; NaN: unknown.

    The facts of a run whose numbers went bad are None, and of a tilt table until it went over.
    """

    stability: str | None  # of facts.STABILITY
    progress: str | None  # of facts.PROGRESS
    met: bool | None  # every feature on its wheels' way lay behind its last wheel at the end
    why: str  # in one line
    peak_roll_deg: float  # the larger lean to either side, positive toward downhill
    peak_roll_horizon_deg: float
    peak_pitch_deg: float
    least_balance_angle_deg: float  # 0: carried over
    least_balance_angle_s: float
    least_lift_off_angle_deg: float  # 0: the body swung past it
    least_lift_off_angle_s: float
    spells: tuple[Spell, ...]
    spell_count: int
    longest_spell_s: float
    most_daylight_m: float
    min_load_n: dict[str, float]
    peak_load_n: dict[str, float]
    stop_hits: int
    off_path_m: float
    path_m: float
    fall: str  # one of FALLS, illustrative; empty if none was followed
    final_rest_deg: float  # roll since level at rest after a fall, illustrative; NaN: no rest
    touched: tuple[str, ...]  # in a fall, in order of their first touch; illustrative
    sim_s: float

    @property
    def facts(self) -> Facts:
        """Stability, progress, and whether all was met."""
        return self.stability, self.progress, self.met

    @property
    def is_good(self) -> bool:
        """Whether it may be shown as a good result."""
        return is_good(self.stability, self.progress, self.met)

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON; an unknown number is None."""
        data: dict[str, Any] = plain(asdict(self))
        return data


def stability(state: Records, step: float) -> str | None:
    """The worst that the wheels did; None if nothing is known, as on a tilt table at rest."""
    values = state[0]
    if not _has_facts(state):
        return None
    if values["finish"] == OVERTURNED or _fell(state):
        return "overturned"
    if values["hung"] > 0.0:
        return "on_stop"
    longest, highest = float(max(values["longest_up"])) * step, float(max(values["most_gap"]))
    if longest > LONG_SPELL or highest > HIGH_SPELL:
        return "lifted"
    return "hopped" if longest > 0.0 else "planted"


def progress(state: Records) -> str | None:
    """Whether it got there; None if nothing is known, as on a tilt table at rest."""
    values = state[0]
    if not _has_facts(state):
        return None
    if values["started"] == 0.0:
        return "not_started"
    if values["finish"] == OVERTURNED or _fell(state):
        return "over"
    if values["slid"] > 0.0 or values["finish"] == SLID:
        return "slid"
    return _PROGRESS[int(values["finish"])]


def met(state: Records, case: Records) -> bool | None:
    """Whether the features on its wheels' way lie behind it; None if nothing is known."""
    if not _has_facts(state):
        return None
    started = state["started"][0] > 0.0
    return bool(started and state["path"][0] >= case["features_end"][0])


def _has_facts(state: Records) -> bool:
    values = state[0]
    on_table = values["stage"] == TILT or values["finish"] == TURNED
    return values["finish"] != BROKEN and not on_table


def _fell(state: Records) -> bool:
    return int(state["finish"][0]) in FALLS


def spells(state: Records, step: float) -> tuple[Spell, ...]:
    """Spells in order of their end, those that last to the end of what was watched included."""
    values = state[0]
    log = [(*row, False) for row in values["spell_log"][: min(int(values["spells"]), MOST_SPELLS)]]
    watched = values["fall_step"] if _fell(state) else values["step"]
    log += [
        (wheel, watched - steps, watched, values["spell_gap"][wheel], True)
        for wheel, steps in enumerate(values["up_steps"])
        if steps * step >= SHORTEST
    ]
    return tuple(
        Spell(WHEELS[int(wheel)], float(start * step), float(end * step), still_up, float(gap))
        for wheel, start, end, gap, still_up in log
    )


def touched(state: Records) -> tuple[str, ...]:
    """What met the ground in a fall, in order of the first touch."""
    steps = state["touch_step"][0]
    order = np.argsort(steps, kind="stable")
    return tuple(TOUCHING[part] for part in order if steps[part] > 0)


def read(state: Records, case: Records) -> Outcome:
    """The outcome of a run.

    Args:
        state: (1,) last state of the run; case: (1,) its numbers, as the kernels read them.
    """
    values, step = state[0], float(case["step"][0])
    known = bool(values["finish"] != BROKEN)
    all_spells = spells(state, step) if known else ()
    open_ones = sum(spell.still_up for spell in all_spells)

    def number(value: Any) -> float:
        return float(value) if known else float("nan")

    def by_wheel(loads: Any) -> dict[str, float]:
        return {wheel: number(load) for wheel, load in zip(WHEELS, loads, strict=True)}

    found = stability(state, step), progress(state), met(state, case)
    return Outcome(
        *found,
        why=why(state, case, *found),
        peak_roll_deg=number(degrees(values["peak_roll"])),
        peak_roll_horizon_deg=number(degrees(values["peak_roll_horizon"])),
        peak_pitch_deg=number(degrees(values["peak_pitch"])),
        least_balance_angle_deg=number(degrees(values["least_balance"])),
        least_balance_angle_s=number(values["least_balance_step"] * step),
        least_lift_off_angle_deg=number(degrees(values["least_lift_off"])),
        least_lift_off_angle_s=number(values["least_lift_off_step"] * step),
        spells=all_spells,
        spell_count=int(values["spells"]) + open_ones if known else 0,
        longest_spell_s=number(max(values["longest_up"]) * step),
        most_daylight_m=number(max(values["most_gap"])),
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
