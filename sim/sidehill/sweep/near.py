"""Which decisions of a run were so close that another engine may decide otherwise.

Engines that share the kernels agree to 1e-3 deg of roll on one course, and to a step or two in
time (tests/run/test_engines.py). Spells, daylight, the axle stop, a slide and what was met are
decided by numbers that the run leaves behind: a decision is close if within a few times that.
Whether a machine stands at the start, gets on, leans, balances and comes back or goes over is
decided on a knife's edge, of which no number is left; but it hangs there for seconds, or its
balance angle gets small, or a wheel hardly carries at the start. All of those are run again: to
turn the slope by a little first, and see if that changes anything, costs as much in the compiled
engine, and misses islands that are narrower.
"""

import numpy as np
from numpy.typing import NDArray

from sidehill.kernels.ends import BACK, OFF_PATH, STAND_TIME
from sidehill.kernels.layout import PIN
from sidehill.kernels.spells import SETTING_OFF, SHORTEST
from sidehill.run.facts import ARRIVED, HIGH_SPELL, LONG_SPELL
from sidehill.run.outcome import Outcome
from sidehill.run.track import Track

TIME = 0.004  # [s]
DAYLIGHT = 0.001  # [m]
WAY = 0.005  # [m]
PIN_ANGLE = 0.05  # [deg] of the front axle's pin to its stop

HANG = 2.0  # [s] longer with a wheel in the air before going over, or behind time, is doubtful
STOOD = 0.02  # of the level load on a wheel at the start: a little steeper it cannot stand there
EDGE = 4.0  # [deg] of balance angle left: below it a machine may as well go over


def near(track: Track, outcome: Outcome) -> tuple[str, ...]:
    """The decisions of a finished run that its own numbers show to be close."""
    if outcome.stability is None:
        return ("numbers",)
    stability = outcome.stability
    found = {
        "hop": stability == "planted" and _almost_hopped(track),
        "short spell": stability == "hopped" and outcome.longest_spell_s < SHORTEST + TIME,
        "long spell": stability in ("hopped", "lifted") and _is_long(outcome),
        "stop": stability in ("hopped", "lifted", "on_stop") and _at_stop(track, outcome),
        "slide": _slides(track) or _slides_and_tips(track, outcome),
        "met": _barely_met(track),
        "edge": _is_on_edge(track, outcome),
    }
    return tuple(name for name, is_near in found.items() if is_near)


def _is_on_edge(track: Track, outcome: Outcome) -> bool:
    """Whether it may have hung on a knife's edge."""
    c, s = track.flat.case[0], track.state[0]
    if outcome.progress == "over":
        return bool(np.max(s["up_steps"]) * c["step"] > HANG)
    if outcome.progress not in ARRIVED:
        return True
    first = track.written()["load"][0] / c["level_load"]
    late = s["step"] * c["step"] - s["path"] / c["speed"] if c["speed"] > 0.0 else 0.0
    waited = s["clear_steps"] * c["step"] < STAND_TIME + TIME and outcome.spell_count > 0
    barely_stood = bool(np.min(first) < STOOD)
    return bool(late > HANG or waited or barely_stood or outcome.least_balance_angle_deg < EDGE)


def _almost_hopped(track: Track) -> bool:
    """Whether a wheel carried nothing for nearly long enough to count."""
    if np.min(track.state[0]["least_load"]) > 0.0:
        return False
    return bool(_up_for(track).max(initial=0.0) + 2.0 * _row_time(track) > SHORTEST - TIME)


def _is_long(outcome: Outcome) -> bool:
    """Whether lifted, and hopped, are a little time or daylight apart."""
    over = (outcome.longest_spell_s - LONG_SPELL) / TIME
    above = (outcome.most_daylight_m - HIGH_SPELL) / DAYLIGHT
    return -1.0 < max(over, above) < 1.0


def _at_stop(track: Track, outcome: Outcome) -> bool:
    """Whether the body came just short of its axle stop, or hardly onto it, with a rear wheel up.

    Rows between which it came and went do not show it: then it counts as hardly on it.
    """
    rows, swing = track.written(), track.flat.case[0]["swing"]
    beyond = np.degrees(np.stack([-rows["joint"][:, PIN], rows["joint"][:, PIN]], axis=1) - swing)
    up = _up_for(track)[:, 2:]  # the rear wheels, left and right
    if outcome.stability != "on_stop":
        return bool(np.any((up > 0.0) & (beyond > -PIN_ANGLE)))
    return not np.any((up > SHORTEST + TIME) & (beyond > PIN_ANGLE))


def _slides(track: Track) -> bool:
    """Whether it went about as far off its path, or back along it, as counts as a slide."""
    s = track.state[0]
    path = track.written()["path"]
    back = float(np.max(np.maximum.accumulate(path) - path, initial=0.0))
    short = max(s["furthest_off"] - OFF_PATH, back - BACK)
    return bool(-WAY < short < WAY or (short >= WAY and s["slid"] == 0.0))


def _slides_and_tips(track: Track, outcome: Outcome) -> bool:
    """Whether it slid off with a wheel up: what comes of that hangs on the least thing."""
    return bool(track.state[0]["slid"] == 1.0 and outcome.stability != "planted")


def _barely_met(track: Track) -> bool:
    """Whether it ended about where the last wheel leaves the last feature."""
    return bool(abs(track.state[0]["path"] - track.flat.case[0]["features_end"]) < WAY)


def _row_time(track: Track) -> float:
    case = track.flat.case[0]
    return float(case["row_steps"] * case["step"])


def _up_for(track: Track) -> NDArray[np.float64]:
    """(n, 4) [s] for how long, at least, each wheel has carried nothing, row by row."""
    rows = track.written()
    is_up = (rows["load"] <= 0.0) & (rows["t_s"] >= SETTING_OFF)[:, None]
    count = np.cumsum(is_up, axis=0)
    since: NDArray[np.int64] = count - np.maximum.accumulate(np.where(is_up, 0, count), axis=0)
    return np.asarray(np.maximum(since - 1, 0) * _row_time(track) + 1e-9 * is_up)
