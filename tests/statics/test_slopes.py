"""Tip slopes against values derived twice from textbook mechanics.

The three-point hinge principle: Gibson, Elliott and Persson 1971, J. Terramechanics 8(2) 65-79.
Inputs of the narrow tractor: OECD Code 6, example 1 (values from memory).
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from statics.examples import HIGH_BUCKET, REAR_BOX, REAR_LIQUID, machines, narrow_tractor, tractor_g

from sidehill.statics.flaw import flaws
from sidehill.statics.path import on_stop
from sidehill.statics.slopes import (
    lift_off_slope,
    overturn_slope,
    rigid_slope,
    second_stage_slope,
)

SPACERS = np.array([0.0, 0.025, 0.050, 0.075, 0.100])  # [m] per side
PRINTED = 0.01  # [deg]
PRINTED_SPACER = 0.02  # [deg]


def degrees(slope):
    return np.degrees(np.asarray(slope))


def test_two_stages_of_the_narrow_tractor():
    machine = narrow_tractor()
    assert degrees(lift_off_slope(machine)) == pytest.approx(28.910, abs=PRINTED)
    assert degrees(second_stage_slope(machine)) == pytest.approx(30.090, abs=PRINTED)
    assert degrees(rigid_slope(machine)) == pytest.approx(36.190, abs=PRINTED)


def test_axle_yaw_on_the_stop():
    # The second line's tilt in the ground follows from the printed yaw of 2.13 deg.
    machine, yaw = narrow_tractor(), np.radians(2.13)
    half = machine.front_track / 2
    contact_x, contact_y = machine.wheelbase + half * np.sin(yaw), half * (1 - np.cos(yaw))
    line = on_stop(machine).line
    assert line.y / line.x == pytest.approx(contact_y / contact_x, rel=0.01)


@pytest.mark.parametrize(
    ("slope", "expected"),
    [
        (lift_off_slope, [28.910, 29.986, 31.039, 32.070, 33.077]),
        (second_stage_slope, [30.090, 30.755, 31.406, 32.045, 32.670]),
    ],
)
def test_rear_spacers(slope, expected):
    machine = narrow_tractor(rear_track=1.115 + 2 * SPACERS)
    assert degrees(slope(machine)) == pytest.approx(expected, abs=PRINTED_SPACER)


@pytest.mark.parametrize(
    ("slope", "expected"),
    [
        (lift_off_slope, [28.910] * 5),
        (second_stage_slope, [30.090, 30.675, 31.253, 31.824, 32.387]),
    ],
)
def test_front_spacers(slope, expected):
    machine = narrow_tractor(front_track=1.115 + 2 * SPACERS)
    assert degrees(slope(machine)) == pytest.approx(expected, abs=PRINTED_SPACER)


@pytest.mark.parametrize(
    ("additions", "lift_off", "second_stage"),
    [
        ([], 31.504, 31.019),
        ([HIGH_BUCKET], 17.988, 22.990),
        ([HIGH_BUCKET, REAR_BOX], 25.775, 24.467),
        ([HIGH_BUCKET, REAR_LIQUID], 21.394, 24.319),
    ],
)
def test_raised_bucket_and_ballast(additions, lift_off, second_stage):
    machine = tractor_g(*additions)
    assert degrees(lift_off_slope(machine)) == pytest.approx(lift_off, abs=0.02)
    assert degrees(second_stage_slope(machine)) == pytest.approx(second_stage, abs=0.02)


@pytest.mark.parametrize("additions", [[HIGH_BUCKET], [HIGH_BUCKET, REAR_BOX]])
def test_gone_at_lift_off(additions):
    machine = tractor_g(*additions)
    assert overturn_slope(machine) == lift_off_slope(machine)


def test_a_tighter_stop_catches_the_fall():
    machine = replace(tractor_g(HIGH_BUCKET), swing=np.radians([10.0, 4.0]))
    wide, tight = overturn_slope(machine)
    assert wide == lift_off_slope(machine)[0]
    assert lift_off_slope(machine)[1] < tight < second_stage_slope(machine)[1]


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"rear_track": 0.0}, "above 0"),
        ({"front_track": -1.0}, "above 0"),
        ({"h": np.nan}, "above 0"),
        ({"axle_mass": -1.0}, "negative"),
        ({"swing": np.pi / 2}, "swing"),
        ({"x": -0.1}, "backward"),
        ({"x": 1.8}, "forward"),
        ({"y": -0.4}, "side slope"),
        ({"h": 0.1, "x": 1.0}, "no lift-off"),
    ],
)
def test_what_makes_no_sense_has_no_slope_but_a_reason(change, word):
    machine = replace(tractor_g(), **change)
    for slope in (lift_off_slope, second_stage_slope, overturn_slope, rigid_slope):
        assert np.isnan(slope(machine))
    assert any(word in reason for reason, holds in flaws(machine).items() if holds)


def test_one_flawed_machine_leaves_the_others_of_a_sweep_alone():
    slopes = lift_off_slope(replace(tractor_g(), rear_track=np.array([1.1, -1.0, 1.1])))
    assert np.isnan(slopes).tolist() == [False, True, False]


def test_too_steep_a_grade_has_no_side_slope():
    grades = np.radians([-60.0, 0.0, 60.0])  # G tips forward at 53.6, backward at 47.0 deg
    assert np.isnan(lift_off_slope(tractor_g(), grades)).tolist() == [True, False, True]


@given(machines(), st.floats(-0.3, 0.3))
def test_without_a_pivot_gravity_points_through_the_line_of_the_downhill_contacts(machine, grade):
    slope = rigid_slope(machine, grade)
    assume(np.isfinite(slope))
    cg = np.array([*machine.whole_cg])
    rear = np.array([0.0, -machine.rear_track / 2, 0.0])
    front = np.array([machine.wheelbase, -machine.front_track / 2, 0.0])
    down = np.array([-np.tan(grade), -np.tan(slope), -1.0])
    assert np.cross(front - rear, cg - rear) @ down == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("field", "bad", "good"),
    [
        ("swing", -0.01, 0.0),
        ("swing", np.pi / 2, 1.57),
        ("axle_mass", -0.01, 0.0),
        ("mass", -0.01, 0.01),
        ("h", 0.0, 0.6),
        ("pin_height", 0.0, 0.01),
        ("front_track", 0.0, 0.01),
        ("wheelbase", 0.74, 0.76),  # its CG is at 0.75 m
        ("x", 0.0, 0.01),
        ("y", -0.31, -0.30),  # 0.55 (1 - 0.75 / 1.7) = 0.307
        ("h", 0.198, 0.199),  # 0.45 * 0.75 / 1.7 = 0.1985
    ],
)
def test_each_bound_of_a_machine_is_where_it_is(field, bad, good):
    assert any(flaws(replace(tractor_g(), **{field: bad})).values())
    assert not any(flaws(replace(tractor_g(), **{field: good})).values())
