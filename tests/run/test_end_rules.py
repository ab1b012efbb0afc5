"""When a run ends, on states put together by hand.

Thresholds are written here again: 60 deg, 1 deg/s, 0.5 m, 8 m, 3 s, each tried on both its sides.
"""

from math import radians

import pytest
from run.posed import case, leaning, state

from sidehill.kernels.ends import drive_end, follow_slide, is_asked_to_go, settle_end
from sidehill.kernels.layout import (
    ACROSS,
    ALWAYS,
    CUT,
    HALTED,
    LEANING,
    ONCE_BRAKED,
    OVERTURNED,
    RUNNING,
    SETTLE,
    SETTLED,
    SLID,
    STUCK,
)

LONG_AGO = {"gauge_step": 1000.0, "rocking_step": 1000.0, "steady_step": 1000.0}  # 10 s
STOOD = {"stand_steps": 100.0}
AT_END = {"path": 9.0}
PARKED = {"stand": ALWAYS, "length": 0.0, "features_end": 0.0}
BRAKED = {"stand": ONCE_BRAKED, "brake_at": 4.0, "schedule_end": 4.0}
DRIVEN = {  # what it is, of the state and of the case, and how it ends
    "under way": ({}, {}, RUNNING),
    "over to the right": ({"roll": radians(60.01)}, {}, OVERTURNED),
    "over to the left": ({"roll": radians(-60.01)}, {}, OVERTURNED),
    "nearly": ({"roll": radians(59.9), "pitch": radians(-59.9)}, {}, RUNNING),
    "over backward": ({"pitch": radians(60.01)}, {}, OVERTURNED),
    "over forward": ({"pitch": radians(-60.01)}, {}, OVERTURNED),
    "at the end": (AT_END, {}, ACROSS),
    "short of the end": ({"path": 8.99}, {}, RUNNING),
    "before its feature": (AT_END, {"features_end": 9.1}, RUNNING),
    "before what is scheduled": (AT_END, {"schedule_end": 9.1}, RUNNING),
    "a wheel up just now": (AT_END | {"clear_steps": 99.0}, {}, RUNNING),
    "a second ago": (AT_END | {"clear_steps": 100.0}, {}, ACROSS),
    "at the end, braking for a while": (
        AT_END | {"brake_step": 1900.0}, {"brake_at": 4.0, "brake_time": 1.01}, RUNNING),
    "at the end, the brake let go": (
        AT_END | {"brake_step": 1900.0}, {"brake_at": 4.0, "brake_time": 1.0}, ACROSS),
    "not on for 2.9 s": ({"gauge_step": 1710.0}, {}, RUNNING),
    "not on for 3 s": ({"gauge_step": 1700.0}, {}, STUCK),
    "not on, falling": (LONG_AGO | leaning(2.0, roll_rate=radians(1.1)), {}, RUNNING),
    "not on, falling back": (LONG_AGO | leaning(2.0, roll_rate=radians(-1.1)), {}, RUNNING),
    "not on, hanging still": (LONG_AGO | leaning(2.0, roll_rate=radians(0.9)), {}, STUCK),
    "not on, past its balance": (LONG_AGO | leaning(2.0, balance=0.0), {}, RUNNING),
    "not on, rocking": (LONG_AGO | leaning(2.0) | {"rocking_step": 1701.0}, {}, RUNNING),
    "not on, rocked 3 s ago": (LONG_AGO | leaning(2.0) | {"rocking_step": 1700.0}, {}, STUCK),
    "parked, standing for 1 s": (STOOD, PARKED, HALTED),
    "parked, 0.99 s": ({"stand_steps": 99.0, "clear_steps": 0.0}, PARKED, RUNNING),
    "parked, a wheel up": (STOOD | leaning(1.0), PARKED, RUNNING),
    "parked, leaning for 2 s": (STOOD | leaning(2.0, steady_step=1800.0), PARKED, LEANING),
    "parked, leaning for 1.99 s": (STOOD | leaning(1.99, steady_step=1800.0), PARKED, RUNNING),
    "leaning, but rolled since": (STOOD | leaning(9.0, steady_step=1801.0), PARKED, RUNNING),
    "standing where none is ordered": (STOOD, {}, RUNNING),
    "braked for good": (STOOD | {"brake_step": 1500.0}, BRAKED, HALTED),
    "to be braked, not yet": (STOOD, BRAKED | {"brake_at": 8.0}, RUNNING),
    "at the end, not yet at a stand": (AT_END | {"brake_step": 1990.0}, BRAKED, RUNNING),
    "at the end, leaning": (AT_END | leaning(2.0, steady_step=1800.0), {}, LEANING),
    "on the way, leaning": (leaning(5.0, steady_step=1000.0), {}, RUNNING),
    "on rough ground 5.9 s": (AT_END | leaning(5.9, steady_step=1000.0), {"rough": 1.0}, RUNNING),
    "on rough ground 6 s": (AT_END | leaning(6.0), {"rough": 1.0}, LEANING),
    "on rough ground, falling": (
        AT_END | leaning(6.0, roll_rate=radians(1.1)), {"rough": 1.0}, RUNNING),
    "slid, at a stand": ({"slid": 1.0} | STOOD, {}, SLID),
    "slid, going on": ({"slid": 1.0}, {}, RUNNING),
    "slid, leaning on the way": ({"slid": 1.0} | leaning(2.0, steady_step=1800.0), {}, LEANING),
    "slid, 8 m off": ({"slid": 1.0, "off_path": 8.01}, {}, SLID),
    "slid, 8 m off to the other side": ({"slid": 1.0, "off_path": -8.01}, {}, SLID),
    "slid, nearly 8 m off": ({"slid": 1.0, "off_path": 7.99}, {}, RUNNING),
    "8 m off, falling": (
        {"slid": 1.0, "off_path": 9.0, "rocking_step": 1000.0}
        | leaning(1.0, roll_rate=radians(1.1)), {}, RUNNING),
    "8 m off, hanging for 1 s": (
        {"slid": 1.0, "off_path": 9.0, "rocking_step": 1900.0} | leaning(1.0), {}, SLID),
    "8 m off, hanging for 0.99 s": (
        {"slid": 1.0, "off_path": 9.0, "rocking_step": 1901.0} | leaning(1.0), {}, RUNNING),
    "out of time": ({}, {"most_steps": 2000.0}, CUT),
    "a step to go": ({}, {"most_steps": 2001.0}, RUNNING),
    "out of time, falling": (leaning(1.0, roll_rate=radians(1.1)), {"most_steps": 2000.0}, RUNNING),
    "out of time, hanging": (leaning(1.0), {"most_steps": 2000.0}, CUT),
    "out of time, quick on four wheels": ({"roll_rate": 1.0}, {"most_steps": 2000.0}, CUT),
    "out of all time, falling": (
        leaning(1.0, roll_rate=radians(1.1)), {"most_steps": 1000.0}, CUT),
    "nearly out of all time, falling": (
        leaning(1.0, roll_rate=radians(1.1)), {"most_steps": 1001.0}, RUNNING),
    # where two fit, the first of: over, slid, stuck, halted, leaning, across, cut
    "over and stuck": (LONG_AGO | {"roll": radians(61.0)}, {}, OVERTURNED),
    "slid and stuck": (LONG_AGO | STOOD | {"slid": 1.0}, {}, SLID),
    "stuck at the end": (LONG_AGO | AT_END, {}, STUCK),
    "across out of time": (AT_END, {"most_steps": 2000.0}, ACROSS),
}  # fmt: skip


@pytest.mark.parametrize("name", DRIVEN)
def test_a_drive_ends_as_its_state_says(name: str) -> None:
    of_state, of_case, end = DRIVEN[name]
    assert drive_end(case(**of_case), state(**of_state)) == end


SETTLING = {"stage": SETTLE, "step": 400.0, "clear_steps": 25.0}
STARTS = {
    "quiet on four wheels": ({}, {}, SETTLED),
    "loaded for 0.24 s": ({"clear_steps": 24.0}, {}, RUNNING),
    "moving": ({"velocity": [0.0, 0.0, -2.1e-4]}, {}, RUNNING),
    "turning": ({"turning": [0.0, 2.1e-4, 0.0]}, {}, RUNNING),
    "nearly at rest": ({"velocity": [1.9e-4] * 3, "turning": [-1.9e-4] * 3}, {}, SETTLED),
    "gravity still turns": ({"step": 299.0}, {}, RUNNING),
    "gravity has just turned": ({"step": 300.0}, {}, SETTLED),
    "over meanwhile": ({"step": 100.0, "roll": radians(61.0)}, {}, OVERTURNED),
    "leans": (leaning(2.0, steady_step=200.0), {}, LEANING),
    "out of time": ({"clear_steps": 0.0}, {"settle_most": 4.0}, CUT),
    "nearly": ({"clear_steps": 0.0}, {"settle_most": 4.01}, RUNNING),
    "out of time, falling": (leaning(1.0, roll_rate=0.1), {"settle_most": 4.0}, RUNNING),
}  # fmt: skip


@pytest.mark.parametrize("name", STARTS)
def test_a_start_ends_as_its_state_says(name: str) -> None:
    of_state, of_case, end = STARTS[name]
    assert settle_end(case(**of_case), state(**SETTLING | of_state)) == end


ASKED = {
    "on its way": ({}, {}, True),
    "standing still": ({}, {"speed": 0.0}, False),
    "coasting": ({}, {"hold_speed": 0.0}, False),
    "parked": ({}, PARKED, False),
    "braked for good": ({"brake_step": 1500.0}, BRAKED, False),
    "before it brakes": ({}, BRAKED | {"brake_at": 8.0}, True),
    "braking out of gear": (
        {"brake_step": 1990.0}, {"brake_at": 4.0, "brake_time": 2.0, "declutch": 1.0}, False),
    "braking in gear": ({"brake_step": 1990.0}, {"brake_at": 4.0, "brake_time": 2.0}, True),
    "the brake let go": (
        {"brake_step": 1500.0}, {"brake_at": 4.0, "brake_time": 2.0, "declutch": 1.0}, True),
}  # fmt: skip


@pytest.mark.parametrize("name", ASKED)
def test_it_is_asked_to_go_or_not(name: str) -> None:
    of_state, of_case, asked = ASKED[name]
    assert is_asked_to_go(case(**of_case), state(**of_state)) == asked


OFF = {"off_path": 0.51}
SLIDES = {
    "on the path": ({"slip": [1.0] * 4}, 0.0),
    "0.5 m off, holding": (OFF | {"slip": [0.99] * 4}, 0.0),
    "front axle": (OFF | {"slip": [1.0, 1.0, 0.5, 0.5]}, 1.0),
    "rear axle, to the right": ({"off_path": -0.51, "slip": [0.5, 0.5, 1.0, 1.0]}, 1.0),
    "not yet far": ({"off_path": 0.5, "slip": [1.0] * 4}, 0.0),
    "one wheel an axle": (OFF | {"slip": [1.0, 0.9, 0.9, 1.0]}, 0.0),
    "a wheel in the air": (OFF | {"slip": [0, 0, 0.0, 1.0], "load": [9, 9, 0.0, 9]}, 1.0),
    "the other one": (OFF | {"slip": [1.0, 0.0, 0, 0], "load": [9, 0.0, 9, 9]}, 1.0),
    "back by 0.51 m": ({"path": 3.49}, 1.0),
    "back by 0.49 m": ({"path": 3.51}, 0.0),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIDES)
def test_it_slides_or_holds(name: str) -> None:
    of_state, slid = SLIDES[name]
    there = state(**of_state)
    follow_slide(there)
    assert there["slid"][0] == slid
    assert there["furthest_off"][0] == abs(of_state.get("off_path", 0.0))
    assert there["furthest_path"][0] == max(4.0, of_state.get("path", 4.0))


def test_the_furthest_that_it_was_is_kept() -> None:
    there = state(off_path=0.1, furthest_off=0.3, path=4.5)
    follow_slide(there)
    assert (there["furthest_off"][0], there["furthest_path"][0]) == (0.3, 4.5)
