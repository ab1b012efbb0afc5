"""Cases and states of a run, put together by hand for the kernels that watch one."""

from math import inf, radians
from typing import Any

from sidehill.kernels.layout import CASE, DRIVE, NEVER, STATE, Records, blank

STEP = 1e-2  # [s]
WEIGHT = [1000.0] * 4
COURSE = {
    "step": STEP, "speed": 1.0, "slowest": 1.0, "hold_speed": 1.0, "length": 9.0,
    "features_end": 5.0,
    "schedule_end": 0.0, "stand": NEVER, "brake_at": inf, "brake_time": inf, "most_steps": 5000.0,
    "extra_steps": 1000.0, "swing": radians(8.0), "level_load": WEIGHT, "ramp": 3.0,
    "settle_most": 20.0, "radius": [0.4] * 4, "drive_most": 500.0,
}  # fmt: skip
# under way on four wheels for 20 s, all of whose clocks began a step ago
GOING = {
    "stage": DRIVE, "step": 2000.0, "path": 4.0, "furthest_path": 4.0, "load": WEIGHT,
    "clear_steps": 500.0, "balance": 0.4, "gauge_step": 1999.0, "steady_step": 1999.0,
    "rocking_step": 1999.0, "lift_off": 0.3,
}  # fmt: skip
ONE_UP = {"load": [1000.0, 1000.0, 0.0, 1000.0], "clear_steps": 0.0}


def case(**values: Any) -> Records:
    return filled(blank(CASE), COURSE | values)


def state(**values: Any) -> Records:
    return filled(blank(STATE), GOING | values)


def filled(record: Records, values: dict[str, Any]) -> Records:
    for name, value in values.items():
        record[name] = value
    return record


def leaning(seconds: float, **more: Any) -> dict[str, Any]:
    return {**ONE_UP, "lean_steps": seconds / STEP, **more}
