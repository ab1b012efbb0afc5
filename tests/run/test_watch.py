"""What is watched of a run at every step, on states put together by hand.

Thresholds are written here again: 50 ms, 0.25 s, a tenth of the way, 0.5 and 2 deg, 50 m/s.
"""

from math import asin, copysign, inf, nan, pi, radians, tan
from typing import Any

import numpy as np
import pytest
from run.posed import STEP, WEIGHT, case, state
from scipy.spatial.transform import Rotation

from sidehill.kernels.clocks import begin_clocks, follow_place, follow_roll
from sidehill.kernels.layout import (
    CHASSIS,
    MOST_SPELLS,
    PIN,
    SETTLE,
    SPIN,
    WORK,
    Records,
    blank,
)
from sidehill.kernels.monitor import attitude, larger, sane, tilted, track
from sidehill.kernels.spells import follow_spells


def followed(loads: list[list[float]], **values: Any) -> Records:
    """After steps with such loads, well after setting off."""
    there, here = state(**{"step": 1000.0, "up_steps": 0.0, "clear_steps": 0.0} | values), case()
    for load in loads:
        there["load"] = load
        follow_spells(here, there)
        there["step"] += 1.0
    return there


UP = [9.0, 9.0, 0.0, 9.0]  # the left rear wheel carries nothing


def test_a_spell_of_50_ms_counts_and_is_logged() -> None:
    there = followed([UP] * 5 + [WEIGHT], gap=[0.0, 0.0, 0.02, 0.0])
    assert (there["spells"][0], there["longest_up"][0, 2], there["most_gap"][0, 2]) == (1, 5, 0.02)
    assert there["spell_log"][0, 0].tolist() == [2.0, 1000.0, 1005.0, 0.02]
    assert there["up_steps"][0, 2] == there["spell_gap"][0, 2] == 0.0
    assert (there["clear_steps"][0], there["lean_steps"][0]) == (1.0, 0.0)


def test_a_shorter_one_does_not() -> None:
    there = followed([UP] * 4 + [WEIGHT] * 3, gap=[0.0, 0.0, 0.02, 0.0])
    assert there["spells"][0] == there["longest_up"].max() == there["most_gap"].max() == 0.0
    assert there["clear_steps"][0] == 3.0


def test_the_longest_and_the_highest_are_kept() -> None:
    there = followed([UP] * 9 + [WEIGHT] + [UP] * 6, gap=[0.0, 0.0, 0.02, 0.0])
    assert (there["longest_up"][0, 2], there["up_steps"][0, 2]) == (9.0, 6.0)
    assert (there["clear_steps"][0], there["lean_steps"][0]) == (0.0, 6.0)
    high = followed([UP] * 6, gap=[0.0, 0.0, 0.01, 0.0], spell_gap=[0.0, 0.0, 0.04, 0.0])
    assert high["most_gap"][0, 2] == high["spell_gap"][0, 2] == 0.04


def test_what_begins_while_it_is_set_going_counts_from_a_quarter_second_on() -> None:
    there = followed([UP] * 30, step=0.0)
    assert there["up_steps"][0, 2] == 5.0 and there["lean_steps"][0] == 30.0
    settling = followed([UP] * 30, step=0.0, stage=SETTLE)
    assert settling["up_steps"][0, 2] == 30.0


def test_more_spells_than_the_log_holds_are_counted() -> None:
    there = followed([UP] * 5 + [WEIGHT], spells=float(MOST_SPELLS))
    assert there["spells"][0] == MOST_SPELLS + 1 and not there["spell_log"].any()


STOP = radians(8.0)
HANGS = {  # loads, pin, swing
    "left up, rolled right": (UP, -STOP, STOP, 1.0),
    "left up, not yet on it": (UP, -0.99 * STOP, STOP, 0.0),
    "left up, the ground twists": (UP, STOP, STOP, 0.0),
    "right up, rolled left": ([9.0, 9.0, 9.0, 0.0], STOP, STOP, 1.0),
    "right up, the ground twists": ([9.0, 9.0, 9.0, 0.0], -STOP, STOP, 0.0),
    "a front wheel up": ([0.0, 9.0, 9.0, 9.0], -STOP, STOP, 0.0),
    "no swing, the rear alone": (UP, 0.0, 0.0, 0.0),
    "no swing, both uphill": ([0.0, 9.0, 0.0, 9.0], 0.0, 0.0, 1.0),
    "no swing, both of the right": ([9.0, 0.0, 9.0, 0.0], 0.0, 0.0, 1.0),
    "no swing, across": ([9.0, 0.0, 0.0, 9.0], 0.0, 0.0, 0.0),
}


@pytest.mark.parametrize("name", HANGS)
@pytest.mark.parametrize(("steps", "counts"), [(5, True), (4, False)])
def test_it_hangs_on_its_stop_with_a_rear_wheel_up(name: str, steps: int, counts: bool) -> None:
    loads, pin, swing, hung = HANGS[name]
    there, here = state(up_steps=0.0), case(swing=swing)
    there["load"], there["joint"][0, PIN] = loads, pin
    for _ in range(steps):
        follow_spells(here, there)
    assert there["hung"][0] == (hung if counts else 0.0)


def test_clocks_begin_where_it_is_and_start_again_where_it_has_moved_on() -> None:
    there = state(position=[2.0, 3.0, 0.5], roll=0.1, spun=5.0, spent_steps=4.0, stand_steps=3.0,
                  lean_steps=2.0)  # fmt: skip
    begin_clocks(there)
    assert there["gauge"][0].tolist() == [2.0, 3.0]
    for clock in ("gauge_step", "steady_step", "rocking_step"):
        assert there[clock][0] == 2000.0
    assert there["steady"].tolist() == there["rocking"].tolist() == [[0.1, 0.1]]
    for count in ("spun", "spent_steps", "stand_steps", "clear_steps", "lean_steps"):
        assert not there[count].any()


@pytest.mark.parametrize(("clock", "widest"), [("steady", 0.5), ("rocking", 2.0)])
def test_a_roll_within_its_range_is_steady(clock: str, widest: float) -> None:
    for moved, began in ((0.99, 1500.0), (-0.99, 1500.0), (1.01, 2000.0), (-1.01, 2000.0)):
        at = 0.1 + radians(moved * widest)
        there = state(roll=at, steady=[0.1, 0.1], rocking=[0.1, 0.1], steady_step=1500.0,
                      rocking_step=1500.0)  # fmt: skip
        follow_roll(there)
        assert there[f"{clock}_step"][0] == began, (moved, widest)
        whole = sorted((0.1, at)) if began == 1500.0 else [at, at]
        assert there[clock][0].tolist() == whole


def placed(x: float, y: float, asked: bool = True, **values: Any) -> Records:
    there = state(**{"position": [x, y, 0.4], "gauge": [1.0, 1.0], "spun": 1.0, "spent_steps": 7.0,
                     "gauge_step": 1800.0} | values)  # fmt: skip
    there["rate"][0, SPIN : SPIN + 4] = [2.0, -2.0, 0.1, 0.0]
    follow_place(case(), there, asked)
    return there


def test_it_has_got_on_past_a_tenth_of_the_way_asked_for_in_3_s() -> None:
    """At 1 m/s: 0.3 m, whichever way."""
    for x, y in ((1.31, 1.0), (0.69, 1.0), (1.0, 1.31), (1.22, 1.22)):
        there = placed(x, y)
        assert there["gauge"][0].tolist() == [x, y] and there["gauge_step"][0] == 2000.0
        assert not there["spun"].any() and there["spent_steps"][0] == 0.0
    assert placed(1.0, 1.0, asked=False)["gauge_step"][0] == 2000.0
    for x, y in ((1.29, 1.0), (1.0, 0.71), (1.2, 1.2)):
        assert placed(x, y)["gauge_step"][0] == 1800.0


def test_what_its_wheels_did_meanwhile_is_kept() -> None:
    """Rims of 0.8 m/s over 0.5 m/s of ground spin 3 mm a step; slower ones none."""
    there = placed(1.1, 1.0, velocity=[0.3, 0.0, -0.4], drive_torque=-499.6)
    assert there["spun"][0] == pytest.approx([1.003, 1.003, 1.0, 1.0])
    assert there["spent_steps"][0] == 8.0
    assert placed(1.1, 1.0, drive_torque=499.0)["spent_steps"][0] == 7.0


def test_it_stands_below_a_centimetre_a_second() -> None:
    for velocity, stood in (([0.006, 0.006, 0.0], 4.0), ([0.006, 0.0, -0.009], 0.0)):
        assert placed(1.0, 1.0, velocity=velocity, stand_steps=3.0)["stand_steps"][0] == stood


def test_peaks_keep_their_side_and_least_angles_end_at_nought() -> None:
    there = state(peak_roll=-0.3, roll=0.2, peak_roll_horizon=0.1, roll_horizon=-0.2,
                  peak_pitch=0.1, pitch=-0.3, least_balance=0.5, balance=0.4, least_lift_off=0.2,
                  lift_off=0.3, least_load=[9.0, 999.0, 1001.0, 5.0],
                  peak_load=[9.0, 1001.0, 999.0, 5.0])  # fmt: skip
    track(case(), there)
    assert [there[f"peak_{name}"][0] for name in ("roll", "roll_horizon", "pitch")] == [
        -0.3, -0.2, -0.3]  # fmt: skip
    assert (there["least_balance"][0], there["least_balance_step"][0]) == (0.4, 2000.0)
    assert (there["least_lift_off"][0], there["least_lift_off_step"][0]) == (0.2, 0.0)
    assert there["least_load"][0].tolist() == [9.0, 999.0, 1000.0, 5.0]
    assert there["peak_load"][0].tolist() == [1000.0, 1001.0, 1000.0, 1000.0]
    past = state(least_balance=0.5, balance=-0.4, least_lift_off=0.2, lift_off=-0.3)
    track(case(), past)
    assert past["least_balance"][0] == past["least_lift_off"][0] == 0.0
    assert past["least_lift_off_step"][0] == 2000.0
    assert (larger(0.2, -0.3), larger(0.3, -0.2), larger(-0.3, 0.3)) == (-0.3, 0.3, -0.3)


def test_a_stop_is_hit_once_until_it_is_left() -> None:
    there, hits = state(), []
    for pin in (0.0, STOP, -STOP, 0.9 * STOP, -STOP, 0.0):
        there["joint"][0, PIN] = pin
        track(case(), there)
        hits.append(there["stop_hits"][0])
    assert hits == [0.0, 1.0, 1.0, 1.0, 2.0, 2.0]
    track(case(swing=0.0), rigid := state())
    assert rigid["stop_hits"][0] == 0.0


def test_an_angle_past_upright_is_beyond_90_deg() -> None:
    for sine, upright, angle in ((0.5, 1.0, 30.0), (0.5, -1.0, 150.0), (-0.5, -1.0, -150.0),
                                 (-0.5, 1.0, -30.0), (1.0 + 1e-12, 1.0, 90.0),
                                 (-1.0 - 1e-12, 1.0, -90.0), (0.0, -1.0, 180.0)):  # fmt: skip
        assert tilted(sine, upright) == pytest.approx(radians(angle))


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_roll_and_pitch_are_those_of_the_axes_to_the_slope_and_to_the_horizon(side: float) -> None:
    """Roll is positive toward downhill: with the right side there, the left one high."""
    for turn in ((0.3, 0.1, -0.2), (-0.2, -0.3, 0.4), (0.0, 0.0, 1.0), (2.5, 0.2, 0.0)):
        axes = Rotation.from_euler("xyz", turn).as_matrix()
        work, there = blank(WORK), state(roll=0.05)
        work["rotation"][0, CHASSIS] = axes
        left, ahead, top = axes[:, 1], axes[:, 0], axes[2, 2]
        up = np.array([0.1, side * tan(0.25), 1.0])
        work["gravity"][0] = -9.8 * up / np.linalg.norm(up)
        attitude(case(downhill=side, gravity=9.8), there, work)
        to_slope, to_level = asin(left[2]), asin(left @ up / np.linalg.norm(up))
        if top < 0.0:
            to_slope, to_level = (copysign(pi, a) - a for a in (to_slope, to_level))
        assert there["roll"][0] == pytest.approx(side * to_slope)
        assert there["roll_horizon"][0] == pytest.approx(side * to_level)
        assert there["pitch"][0] == pytest.approx(asin(ahead[2]))
        assert there["roll_rate"][0] == pytest.approx((side * to_slope - 0.05) / STEP)


def test_numbers_that_go_bad_are_seen() -> None:
    assert sane(case(), state())
    for name, value in (
        ("velocity", [0.0, -50.1, 0.0]), ("turning", [0.0, 0.0, 50.1]), ("velocity", [nan, 0, 0]),
        ("turning", [inf, 0.0, 0.0]), ("position", [nan, 0.0, 0.0]), ("load", [nan, 0.0, 0.0, 0.0]),
        ("load", [80_001.0, 0.0, 0.0, 0.0]), ("load", [0.0, 0.0, 0.0, 80_001.0]),
    ):  # fmt: skip
        assert not sane(case(), state(**{name: value})), (name, value)
    for name, value in (("velocity", [49.0, 0, 0]), ("load", [79_999.0] * 4),
                        ("position", [1e4, -1e4, 0.0])):  # fmt: skip
        assert sane(case(), state(**{name: value})), (name, value)
