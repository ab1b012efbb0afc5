"""Why a run came out as it did, in one line for a person."""

import numpy as np

from sidehill.files.units import round_to, show
from sidehill.kernels.ends import BACK
from sidehill.kernels.layout import BROKEN, Records
from sidehill.machine.linkage import WHEELS
from sidehill.run.facts import CALM, PROGRESS, STABILITY

_SPINNING = 0.3  # [m] that a rim ran beyond the ground while the machine did not get on
_SPENT = 0.5  # of that time at the torque's limit


def wheel_words(wheel: str, downhill: float) -> str:
    """A wheel by its place on the slope: "uphill rear wheel".

    Args:
        wheel: of `WHEELS`; downhill: +1 right side downhill, -1 left.
    """
    end, side = wheel.split("_")
    is_low = (side == "right") == (downhill > 0.0)
    return f"{'downhill' if is_low else 'uphill'} {end} wheel"


def why(
    state: Records, case: Records, stability: str | None, progress: str | None, met: bool | None
) -> str:
    """What happened: how far it got, and the worst that its wheels did.

    Args:
        state: (1,) last state of the run; case: (1,) its numbers; the rest: its facts.
    """
    if stability is None or progress is None:
        return "numbers went bad: nothing is known" if state["finish"][0] == BROKEN else ""
    got = _got(state, case, progress)
    if progress == "not_started" and stability in CALM:
        return "it does not come to rest there"
    if progress == "not_started":
        wheels = STABILITY[stability]
    else:
        wheels = "" if stability == "overturned" else _wheels(state, case, stability)
    missed = "" if met or progress in ("not_started", "over") else "not all of the course was met"
    return "; ".join(part for part in (got, wheels, missed) if part)


def _got(state: Records, case: Records, progress: str) -> str:
    special = {"over": _over, "slid": _slid, "stuck": _stuck}
    return special[progress](state, case) if progress in special else PROGRESS[progress]


def _over(state: Records, case: Records) -> str:
    values = state[0]
    if abs(values["pitch"]) > abs(values["peak_roll"]):
        way = "backward" if values["pitch"] > 0.0 else "forward"
    else:
        way = "toward downhill" if values["peak_roll"] > 0.0 else "toward uphill"
    return f"goes over {way}, {show(float(values['path']), 'distance')} along"


def _slid(state: Records, case: Records) -> str:
    values = state[0]
    by_brake = values["brake_step"] > 0.0 and case["declutch"][0] == 0.0
    if by_brake:
        return "pulled off its path by the brake on one side"
    if values["path"] < values["furthest_path"] - BACK:
        return "slides back along its path"
    return f"{PROGRESS['slid']}, {show(float(values['furthest_off']), 'distance')} off at most"


def _stuck(state: Records, case: Records) -> str:
    values = state[0]
    steps = values["step"] - values["gauge_step"]
    most = int(np.argmax(values["spun"]))
    if values["spun"][most] > _SPINNING:
        return f"stopped: {wheel_words(WHEELS[most], case['downhill'][0])} spinning"
    if values["spent_steps"] > _SPENT * steps:
        return "stopped: its torque ran out"
    return f"stopped: {PROGRESS['stuck']}"


def _wheels(state: Records, case: Records, stability: str) -> str:
    values = state[0]
    if stability == "planted":
        return STABILITY["planted"]
    longest = int(np.argmax(values["longest_up"]))
    wheel = wheel_words(WHEELS[longest], case["downhill"][0])
    time = round_to(float(values["longest_up"][longest] * case["step"][0]), 2, "up")
    gap = show(float(max(values["most_gap"])), "length", rounding="up")
    told = f"{wheel} up for {time:.2f} s, {gap} of daylight"
    return told if stability != "on_stop" else f"{told}; {STABILITY['on_stop']}"
