"""Wheel loads against printed values and against a linear system solved by numpy."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq
from statics.examples import machines, tractor_g

from sidehill.statics.flaw import sound
from sidehill.statics.loads import balance, wheel_loads
from sidehill.statics.slopes import lift_off_slope
from sidehill.statics.tipping import Tipping

PRINTED = 1.0  # [N]


@pytest.mark.parametrize(
    ("grade", "expected"),
    [
        (0.0, [3855, 2415, 5708, 2235]),
        (10.0, [3292, 1872, 6135, 2712]),
        (-10.0, [4309, 2890, 5118, 1695]),
    ],
)
def test_tractor_g_on_15_deg(grade, expected):
    # Six equilibrium equations and a hinge without roll moment (derived, textbook statics).
    loads = wheel_loads(tractor_g(), np.radians(15.0), np.radians(grade))
    assert loads == pytest.approx(expected, abs=PRINTED)


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


def solved(machine, slope, grade):
    """Unknowns: four loads, front and rear side force, pull along; two bodies joined by the pin."""
    ends = [(machine.wheelbase, machine.front_track), (0.0, machine.rear_track)]
    points = [np.array([x, s * track / 2, 0.0]) for x, track in ends for s in (-1, 1)]
    up, left, ahead = np.array([0.0, 0, 1]), np.array([0.0, 1, 0]), np.array([1.0, 0, 0])
    forces = [(point, up) for point in points]
    forces += [(np.array([machine.wheelbase, 0.0, 0.0]), left), (np.zeros(3), left)]
    forces += [(np.zeros(3), ahead)]
    toward = np.array([-np.tan(grade), -np.tan(slope), -1.0])
    gravity = 9.81 * toward / np.linalg.norm(toward)
    body = np.array([machine.x, machine.y, machine.h])
    axle = np.array([machine.wheelbase, 0.0, machine.axle_h])
    pin = np.array([machine.wheelbase, 0.0, machine.pin_height])
    weights = [(body, machine.mass * gravity), (axle, machine.axle_mass * gravity)]

    def rows(pairs):
        return np.array([[*force, *np.cross(point, force)] for point, force in pairs]).T

    front = [0, 1, 4]  # what acts on the front axle assembly
    hinge = np.zeros(7)
    hinge[front] = [np.cross(forces[i][0] - pin, forces[i][1])[0] for i in front]
    left_side = np.vstack([rows(forces), hinge])
    own = np.cross(axle - pin, weights[1][1])[0]
    right_side = -np.append(rows(weights).sum(axis=1), own)
    return np.linalg.solve(left_side, right_side)[:4]


@given(machines(), st.floats(0.0, 0.8), st.floats(-0.4, 0.4))
def test_linear_system(machine, slope, grade):
    expected = solved(machine, slope, grade)
    weight = 9.81 * machine.whole_mass
    assert balance(machine, slope, grade) == pytest.approx(expected, abs=1e-9 * weight)


@given(machines(), st.floats(0.0, 0.8), st.floats(-0.4, 0.4))
def test_loads_are_all_there_or_none(machine, slope, grade):
    loads = np.array(wheel_loads(machine, slope, grade))
    if np.isnan(loads).any():
        assert np.isnan(loads).all()
    else:
        assert np.all(loads >= 0)
        assert slope <= lift_off_slope(machine, grade)


def test_no_loads_past_lift_off_though_equal_holding_forces_would_balance():
    # Nose up the uphill brake seems to hold its wheel down; at lift-off it holds nothing.
    machine, slope, grade = tractor_g(), np.radians(33.5), np.radians(10.0)
    assert slope > lift_off_slope(machine, grade)
    assert min(balance(machine, slope, grade)) > 0
    assert np.isnan(wheel_loads(machine, slope, grade)).all()


@given(machines())
def test_nothing_is_left_on_the_uphill_rear_wheel_at_lift_off(machine):
    assume(sound(machine))
    load = balance(machine, lift_off_slope(machine), 0.0)[3]
    assert load == pytest.approx(0.0, abs=1e-9 * 9.81 * machine.whole_mass)


def test_the_other_side_downhill_swaps_left_and_right():
    machine = replace(tractor_g(), y=0.05)
    right, left = wheel_loads(machine, 0.0), wheel_loads(machine.mirrored(), 0.0)
    assert right.rear_down == pytest.approx(float(left.rear_up))
    assert right.rear_up == pytest.approx(float(left.rear_down))
    assert right.rear_up > right.rear_down


def test_no_loads_as_soon_as_one_of_them_would_be_negative():
    # A front track so narrow that the uphill front wheel is the first to carry nothing.
    machine = replace(tractor_g(), front_track=0.5)
    slope = brentq(lambda s: balance(machine, s, 0.0)[1], 0.0, lift_off_slope(machine))
    assert np.isfinite(wheel_loads(machine, slope - 1e-5)).all()
    assert -0.9 < balance(machine, slope + 1e-5, 0.0)[1] < 0.0
    assert np.isnan(wheel_loads(machine, slope + 1e-5)).all()
