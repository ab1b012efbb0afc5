"""Which decisions of a run were so close that another engine may decide otherwise.

Engines that share the kernels agree to 1e-3 deg of roll on one course, and to a step or two in
time (tests/run/test_engines.py). A lift-off, a slide and a stop are decided by a number that the
run leaves behind: it is close if within a few times that. Whether a machine stalls, balances and
comes back or goes over is decided on a knife's edge, of which no number is left; but it hangs
there for seconds. Such a run is doubtful: it is close if turning the slope by YARDSTICK changes
its verdict.
"""

from math import degrees, radians

import numpy as np

from sidehill.kernels.layout import PIN, Records
from sidehill.kernels.monitor import LIFT_TIME, LIGHT, LOADED_TIME, OFF_PATH

LOAD = 0.002  # of the level load
TIME = 0.004  # [s]
WAY = 0.005  # [m]
PIN_ANGLE = 0.02  # [deg] of the front axle's pin to its stop

YARDSTICK = radians(0.01)  # ten times what engines differ by
HANG = 2.0  # [s] longer with a wheel in the air before going over, or behind time, is doubtful
LEAN = 20.0  # [deg] of peak roll: past any axle stop, and back


def near(case: Records, state: Records, verdict: str) -> tuple[str, ...]:
    """The decisions of a finished run that its own numbers show to be close.

    Args:
        case, state: (1,) of the run, as it ended.
    """
    c, s = case[0], state[0]
    if verdict in ("failed", "not_settled"):
        return ("numbers",) if verdict == "failed" else ()
    ended = verdict in ("on_stop", "wheel_lifted", "crossed")
    found = {
        "lift": _lift(c, s),
        "slide": abs(float(s["furthest_off"]) - OFF_PATH) < WAY,
        "stop": ended and abs(degrees(abs(s["joint"][PIN]) - c["swing"])) < PIN_ANGLE,
        "loaded": ended and _loaded(c, s),
    }
    return tuple(name for name, is_near in found.items() if is_near)


def doubtful(case: Records, state: Records, verdict: str) -> bool:
    """Whether a finished run may have hung on a knife's edge."""
    c, s = case[0], state[0]
    if verdict in ("stalled", "slid", "not_settled"):
        return True
    if verdict == "overturned":
        return bool(np.max(s["low_steps"]) * c["step"] > HANG)
    behind = s["step"] * c["step"] - s["path"] / c["speed"] if c["speed"] > 0.0 else 0.0
    return bool(behind > HANG or degrees(s["peak_roll"]) > LEAN)


def _lift(c: Records, s: Records) -> bool:
    """No wheel surely lifted, and one that may have."""
    share = s["least_load"] / c["level_load"]
    low = s["longest_low"] * c["step"]
    surely = (share < LIGHT - LOAD) & (low > LIFT_TIME + TIME)
    surely_not = (share > LIGHT + LOAD) | ((share < LIGHT - LOAD) & (low < LIFT_TIME - TIME))
    return bool(not np.any(surely) and not np.all(surely_not))


def _loaded(c: Records, s: Records) -> bool:
    """The course ended with four wheels loaded for about as long as is asked."""
    is_end = bool(s["path"] > c["length"] - WAY)
    return is_end and abs(float(s["full_steps"] * c["step"]) - LOADED_TIME) < TIME
