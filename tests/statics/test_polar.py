"""The tip slope all round."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from statics.examples import machines, tractor_g

from sidehill.statics.flaw import sound
from sidehill.statics.loads import wheel_loads
from sidehill.statics.polar import LIFTS, round_slope
from sidehill.statics.slopes import lift_off_slope

ROUND = np.radians(np.arange(0.0, 360.0, 1.0))


@given(machines())
def test_sideways_it_is_the_lift_off_slope(machine):
    assume(sound(machine) and sound(machine.mirrored()))
    left, right = round_slope(machine, np.radians([90.0, 270.0])).slope
    assert right == pytest.approx(float(lift_off_slope(machine)), abs=1e-12)
    assert left == pytest.approx(float(lift_off_slope(machine.mirrored())), abs=1e-12)


def test_lengthways_an_axle_lifts():
    # The textbook case: CG 1.0 m ahead of the rear axle, 1.5 m high, tips back at 33.69 deg
    # (inputs published, output derived).
    machine = replace(tractor_g(), x=1.0, h=1.5, wheelbase=2.25)
    nose_down, nose_up = round_slope(machine, np.radians([0.0, 180.0])).slope
    assert np.degrees(nose_up) == pytest.approx(33.69, abs=0.01)
    assert np.tan(nose_down) == pytest.approx(1.25 / 1.5)


@given(machines())
def test_turned_round_it_is_its_mirror_image(machine):
    assume(sound(machine) and sound(machine.mirrored()))
    slopes = round_slope(machine, ROUND).slope
    mirrored = round_slope(machine.mirrored(), -ROUND).slope
    np.testing.assert_allclose(slopes, mirrored, atol=1e-12)


@given(machines(), st.floats(0.05, 0.3))
def test_with_a_grade_it_is_the_lift_off_slope_on_that_grade(machine, grade):
    # tan(direction) and the total tangent split into the side slope and the grade.
    side = float(lift_off_slope(machine, grade))
    assume(np.isfinite(side) and sound(machine))
    direction = np.arctan2(-np.tan(side), -np.tan(grade))
    result = round_slope(machine, direction)
    assume(LIFTS[result.lifts] in ("rear left", "front left"))
    assert np.tan(result.slope) == pytest.approx(np.hypot(np.tan(side), np.tan(grade)))


def test_which_wheel_lifts_first_goes_round_in_order():
    lifts = round_slope(tractor_g(), ROUND).lifts
    named = [LIFTS[i] for i in lifts]
    assert (named[0], named[90], named[180], named[270]) == (
        "both rear",
        "rear right",
        "both front",
        "rear left",
    )
    assert np.count_nonzero(lifts != np.roll(lifts, 1)) == 4


def test_it_stands_below_the_tip_slope_sideways():
    machine = tractor_g()
    near_sideways = np.radians(np.arange(250.0, 291.0))
    tangent = 0.9 * np.tan(round_slope(machine, near_sideways).slope)
    slope = np.arctan(-tangent * np.sin(near_sideways))
    grade = np.arctan(-tangent * np.cos(near_sideways))
    assert np.all(np.isfinite(wheel_loads(machine, slope, grade).rear_up))
