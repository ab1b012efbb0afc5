"""Verdicts: exactly one, by precedence, read off the last state."""

from math import isnan, radians

import numpy as np
import pytest

from sidehill.kernels.layout import (
    BROKEN,
    FINISHED,
    OVERTURNED,
    RESTED,
    RUNNING,
    STALLED,
    STATE,
    TIMED_OUT,
    TOUCHING,
    UNSETTLED,
    Records,
    blank,
)
from sidehill.run.outcome import VERDICTS, read, touched, verdict

STEP = 1e-3


def ended(finish: int = FINISHED, **values: float) -> Records:
    """A state that came to its end on four loaded wheels, but for `values`."""
    state = blank(STATE)
    state["finish"], state["full_steps"], state["step"] = finish, 2000, 5000
    for name, value in values.items():
        state[name] = value
    return state


@pytest.mark.parametrize(
    ("state", "expected"),
    [
        (ended(), "crossed"),
        (ended(BROKEN, slid=1), "failed"),
        (ended(UNSETTLED, unsettled=1), "not_settled"),
        (ended(RESTED, unsettled=1), "not_settled"),
        (ended(RESTED), "overturned"),
        (ended(OVERTURNED, slid=1, on_stop=1), "overturned"),
        (ended(STALLED, slid=1), "slid"),
        (ended(STALLED, on_stop=1), "stalled"),
        (ended(TIMED_OUT), "stalled"),
        (ended(on_stop=1, longest_low=3000), "on_stop"),
        (ended(longest_low=51), "wheel_lifted"),
        (ended(longest_low=50), "crossed"),
        (ended(full_steps=999), "wheel_lifted"),
    ],
)
def test_verdict(state: Records, expected: str) -> None:
    assert verdict(state, STEP) == expected
    assert expected in VERDICTS


def test_a_run_that_is_not_over_has_no_verdict() -> None:
    with pytest.raises(ValueError, match="not the end"):
        verdict(ended(RUNNING), STEP)


@pytest.mark.parametrize(("finish", "unsettled"), [(BROKEN, 0), (UNSETTLED, 1)])
def test_an_unknown_outcome_has_no_numbers(finish: int, unsettled: int) -> None:
    state = ended(finish, unsettled=unsettled, peak_roll=0.1, stop_hits=2, lifts=3)
    outcome = read(state, STEP)
    assert (outcome.lift_off_count, outcome.stop_hits) == (0, 0)
    assert isnan(outcome.peak_roll_deg)
    assert all(isnan(load) for load in outcome.min_load_n.values())
    assert outcome.to_dict()["peak_roll_deg"] is None
    assert outcome.lift_offs == ()


def test_lift_offs_are_listed_with_the_one_that_lasts_to_the_end() -> None:
    state = ended(lifts=1, low_steps=np.array([0, 0, 0, 200.0]))
    state["lift_log"][0, 0] = (2, 1000, 1300)
    outcome = read(state, STEP)
    assert [(lift.wheel, lift.start_s, lift.end_s) for lift in outcome.lift_offs] == [
        ("rear_left", 1.0, 1.3),
        ("rear_right", 4.8, 5.0),
    ]
    assert outcome.lift_off_count == 2


def test_angles_come_out_in_degrees() -> None:
    assert read(ended(peak_roll=radians(12.0)), STEP).peak_roll_deg == pytest.approx(12.0)


def test_what_touched_is_in_the_order_of_its_first_touch_and_what_did_not_is_left_out() -> None:
    state = ended(RESTED)
    for part, step in (("bucket", 900.0), ("wheel", 1.0), ("roll bar", 1200.0)):
        state["touch_step"][0, TOUCHING.index(part)] = step
    assert touched(state) == ("wheel", "bucket", "roll bar")
    assert touched(ended(RESTED)) == ()
    assert read(state, STEP).touched == touched(state)
    state["finish"] = FINISHED
    assert read(state, STEP).touched == ()


def test_a_wheel_light_for_no_longer_than_the_lift_time_is_no_lift_off() -> None:
    assert read(ended(low_steps=np.array([0, 0, 50.0, 51.0])), STEP).lift_off_count == 1


@pytest.mark.parametrize("finish", [FINISHED, OVERTURNED, RESTED])
def test_only_a_fall_that_came_to_rest_has_a_last_angle(finish: int) -> None:
    angle = read(ended(finish, turned_over=radians(90.0)), STEP).final_rest_deg
    assert angle == pytest.approx(90.0) if finish == RESTED else isnan(angle)
