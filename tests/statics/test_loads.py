"""Wheel loads against printed values; `test_equilibrium` has them solved by numbers."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq
from statics.examples import machines, tractor_g

from sidehill.statics.flaw import sound
from sidehill.statics.loads import balance, wheel_loads
from sidehill.statics.slopes import front_lifts_first, lift_off_slope
from sidehill.statics.tipping import Tipping

PRINTED = 1.0  # [N]


def test_tractor_g_on_15_deg():
    # Six equilibrium equations and a hinge without roll moment (derived, textbook statics).
    loads = wheel_loads(tractor_g(), np.radians(15.0))
    assert loads == pytest.approx([3855, 2415, 5708, 2235], abs=PRINTED)


@pytest.mark.parametrize(
    ("grade", "front", "rear"),
    [(10.0, 3292 + 1872, 6135 + 2712), (-10.0, 4309 + 2890, 5118 + 1695)],
)
def test_axles_of_tractor_g_on_15_deg_and_a_grade(grade, front, rear):
    # Derived, textbook statics; how the two sides share depends on how the wheels hold.
    loads = wheel_loads(tractor_g(), np.radians(15.0), np.radians(grade))
    assert loads.front_down + loads.front_up == pytest.approx(front, abs=2 * PRINTED)
    assert loads.rear_down + loads.rear_up == pytest.approx(rear, abs=2 * PRINTED)


def test_uphill_wheels_lift_one_after_the_other():
    # 31.504 deg rear; the front one would follow only at 49.4 deg (derived).
    machine = tractor_g()
    assert balance(machine, lift_off_slope(machine), 0.0)[3] == pytest.approx(0.0, abs=1e-6)
    front_up = [balance(machine, np.radians(s), 0.0)[1] for s in (49.3, 49.5)]
    assert front_up[0] > 0 > front_up[1]


def test_longitudinal_textbook_case():
    # W 49050 N, wheelbase 2.25 m, CG 1.0 m ahead of the rear axle and 1.5 m high, 10 deg nose up
    # (inputs published, outputs derived).
    machine = Tipping(
        mass=5000.0,
        x=1.0,
        y=0.0,
        h=1.5,
        axle_mass=0.0,
        axle_h=0.5,
        wheelbase=2.25,
        pin_height=0.5,
        rear_track=1.5,
        front_track=1.5,
        swing=0.2,
    )
    loads = wheel_loads(machine, 0.0, np.radians(10.0))
    assert loads.front_down + loads.front_up == pytest.approx(15791, abs=PRINTED)
    assert loads.rear_down + loads.rear_up == pytest.approx(32514, abs=PRINTED)
    assert np.isfinite(wheel_loads(machine, 0.0, np.radians(33.68)).front_up)
    assert np.isnan(wheel_loads(machine, 0.0, np.radians(33.70)).front_up)


@given(machines(), st.floats(0.0, 0.8), st.floats(-0.4, 0.4))
def test_loads_are_all_there_or_none(machine, slope, grade):
    loads = np.array(wheel_loads(machine, slope, grade))
    if np.isnan(loads).any():
        assert np.isnan(loads).all()
    else:
        assert np.all(loads >= 0)
        assert slope <= lift_off_slope(machine, grade)


@given(machines(), st.floats(-0.4, 0.4))
def test_nothing_is_left_on_the_first_wheel_at_lift_off_whatever_the_grade(machine, grade):
    assume(sound(machine, grade))
    loads = balance(machine, lift_off_slope(machine, grade), grade)
    assert min(loads) == pytest.approx(0.0, abs=1e-9 * 9.81 * machine.whole_mass)
    front, rear = min(loads[:2]), min(loads[2:])
    assert bool(front_lifts_first(machine, grade)) is bool(front < rear)


def test_the_other_side_downhill_swaps_left_and_right():
    machine = replace(tractor_g(), y=0.05)
    right, left = wheel_loads(machine, 0.0), wheel_loads(machine.mirrored(), 0.0)
    assert right.rear_down == pytest.approx(float(left.rear_up))
    assert right.rear_up == pytest.approx(float(left.rear_down))
    assert right.rear_up > right.rear_down


def test_no_loads_as_soon_as_one_of_them_would_be_negative():
    # A front track so narrow that the uphill front wheel is the first to carry nothing.
    machine = replace(tractor_g(), front_track=0.5)
    slope = brentq(lambda s: balance(machine, s, 0.0)[1], 0.0, 1.0)
    assert slope == pytest.approx(float(lift_off_slope(machine)), abs=1e-9)
    assert front_lifts_first(machine)
    assert np.isfinite(wheel_loads(machine, slope - 1e-5)).all()
    assert -0.9 < balance(machine, slope + 1e-5, 0.0)[1] < 0.0
    assert np.isnan(wheel_loads(machine, slope + 1e-5)).all()
