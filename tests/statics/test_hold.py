"""Sliding and holding a parked machine."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq
from statics.examples import machines, tractor_g

from sidehill.statics.flaw import sound
from sidehill.statics.hold import grade_hold, slide_slope
from sidehill.statics.loads import balance


@pytest.mark.parametrize(("friction", "expected"), [(0.2, 11.3), (0.65, 33.0)])
def test_slide_slope(friction, expected):
    # Wet grass, dry asphalt: friction published, secondary, citing Noon 1994, measured with cars.
    assert np.degrees(slide_slope(friction)) == pytest.approx(expected, abs=0.1)


def spare(machine, friction, grade):
    """Friction left on the rear axle on a grade [N], from the six equilibrium equations."""
    loads = balance(machine, 0.0, grade)
    return friction * (loads[2] + loads[3]) - 9.81 * machine.whole_mass * abs(np.sin(grade))


@given(machines(), st.floats(0.1, 0.9))
def test_rear_brakes_hold_while_the_rear_axle_has_friction_left(machine, friction):
    assume(sound(machine))
    hold = float(grade_hold(machine, friction))
    slips = brentq(lambda s: spare(machine, friction, -s), 0.0, 1.5)
    backward = float(np.arctan(machine.whole_cg.x / machine.whole_cg.z))
    assert hold == pytest.approx(min(slips, backward), abs=1e-9)
    for grade in (0.999 * hold, -0.999 * hold):
        assert spare(machine, friction, grade) > 0


def test_nose_down_is_the_weaker_way():
    # Tractor G by hand: tan = 0.7 (1 - 0.75/1.70) / (1 + 0.7 0.70/1.70) = 0.3037.
    assert np.tan(grade_hold(tractor_g(), 0.7)) == pytest.approx(0.30365, abs=1e-5)


def test_brakes_on_all_wheels_hold_to_the_friction():
    assert grade_hold(tractor_g(), 0.7, "all") == pytest.approx(float(slide_slope(0.7)))


def test_never_past_the_grade_at_which_it_tips():
    machine = tractor_g()
    backward = np.arctan(0.75 / 0.70)
    assert grade_hold(machine, 2.0, "all") == pytest.approx(float(backward))


def test_nor_past_the_grade_at_which_it_tips_forward():
    machine = replace(tractor_g(), x=1.5)
    assert grade_hold(machine, 2.0, "all") == pytest.approx(float(np.arctan(0.2 / 0.70)))


def test_weak_brakes_hold_less():
    machine, force = tractor_g(), 1500.0
    assert np.sin(grade_hold(machine, 0.7, "rear", force)) == pytest.approx(force / 14715.0)


def test_no_hold_for_what_does_not_stand():
    assert np.isnan(grade_hold(replace(tractor_g(), x=-0.1), 0.7))
