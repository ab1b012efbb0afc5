"""Which decisions of a run were so close that another engine may decide otherwise."""

from math import degrees

import numpy as np

from sidehill.layout import OVERTURNED, PIN, Records
from sidehill.monitor import LIFT_TIME, LIGHT, LOADED_TIME, OFF_PATH, OVER

# Engines agree to 1e-3 deg of roll and to a step in time on the same course
# (tests/run/test_engines.py); each margin is several times that.
LOAD = 0.002  # of the level load
TIME = 0.004  # [s]
WAY = 0.005  # [m] off the path
ROLL = 1.0  # [deg] of peak roll below the point of no return
HANG = 2.0  # [s] a wheel in the air before going over: it hung near its balance
PIN_ANGLE = 0.02  # [deg] of the front axle's pin to its stop


def near(case: Records, state: Records, verdict: str) -> tuple[str, ...]:
    """The decisions of a finished run that were close.

    Args:
        case, state: (1,) of the run, as it ended.
    """
    c, s = case[0], state[0]
    if verdict == "failed":
        return ("numbers",)
    if verdict == "not_settled":
        return ()
    found = {
        "lift": _lift(c, s),
        "overturn": _overturn(c, s),
        "slide": abs(float(s["furthest_off"]) - OFF_PATH) < WAY,
        "stop": verdict in ("on_stop", "wheel_lifted", "crossed") and _stop(c, s),
        "loaded": verdict in ("wheel_lifted", "crossed") and _loaded(c, s),
    }
    return tuple(name for name, is_near in found.items() if is_near)


def _lift(c: Records, s: Records) -> bool:
    """No wheel surely lifted, and one that may have."""
    share = s["least_load"] / c["level_load"]
    low = s["longest_low"] * c["step"]
    surely = (share < LIGHT - LOAD) & (low > LIFT_TIME + TIME)
    surely_not = (share > LIGHT + LOAD) | ((share < LIGHT - LOAD) & (low < LIFT_TIME - TIME))
    return bool(not np.any(surely) and not np.all(surely_not))


def _overturn(c: Records, s: Records) -> bool:
    """Went over slowly, or came back from far."""
    if s["finish"] == OVERTURNED:
        return bool(np.max(s["low_steps"]) * c["step"] > HANG)
    return degrees(max(s["peak_roll"], s["peak_pitch"])) > degrees(OVER) - ROLL


def _stop(c: Records, s: Records) -> bool:
    """The axle's pin beside its stop as the run ended."""
    return abs(degrees(abs(s["joint"][PIN]) - c["swing"])) < PIN_ANGLE


def _loaded(c: Records, s: Records) -> bool:
    """The course ended with four wheels loaded for about as long as is asked."""
    is_end = bool(s["path"] > c["length"] - WAY)
    return is_end and abs(float(s["full_steps"] * c["step"]) - LOADED_TIME) < TIME
