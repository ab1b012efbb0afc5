"""A slow bump under the uphill rear wheel."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation
from statics.examples import tractor_g

from sidehill.statics.bump import bump_roll, lift_off_slope_on_bump
from sidehill.statics.slopes import lift_off_slope

HEIGHTS = np.array([0.050, 0.100, 0.150])


def test_roll_added():
    # asin(height / track): derived; supported by abstracts, JSAM 79(1) 59-65 (2017) and
    # JSAM 32(1) 16.
    rolls = np.degrees(bump_roll(HEIGHTS, 1.10))
    assert rolls == pytest.approx([2.605, 5.216, 7.837], abs=0.05)


def test_on_a_bump_of_no_height_it_is_the_lift_off_slope():
    machine = replace(tractor_g(), y=0.03)
    assert lift_off_slope_on_bump(machine, 0.0) == pytest.approx(float(lift_off_slope(machine)))


def test_lift_off_by_turning_points():
    machine = tractor_g()
    contact, pin = np.array([0.0, -0.55, 0.0]), np.array([1.70, 0.0, 0.45])
    axis = (pin - contact) / np.linalg.norm(pin - contact)
    for height, found in zip(HEIGHTS, lift_off_slope_on_bump(machine, HEIGHTS), strict=True):

        def raised(angle, height=height):
            return Rotation.from_rotvec(angle * axis).apply([0.0, 1.10, 0.0])[2] - height

        turn = Rotation.from_rotvec(brentq(raised, 0.0, 0.5, xtol=1e-14) * axis)
        cg = turn.apply(np.array([machine.x, machine.y, machine.h]) - contact)
        moment = np.cross(cg, [0.0, -np.tan(found), -1.0]) @ axis
        assert moment == pytest.approx(0.0, abs=1e-12)


def test_the_limit_falls_by_nearly_the_roll_added():
    # The obstacle over the tread: JSAM 32(1) 16, abstract.
    machine = tractor_g()
    fall = np.degrees(lift_off_slope(machine) - lift_off_slope_on_bump(machine, HEIGHTS))
    assert fall == pytest.approx(np.degrees(bump_roll(HEIGHTS, 1.10)), rel=0.05)


def test_past_the_stop_it_has_no_value():
    machine = tractor_g()  # 10 deg of swing: about 0.19 m
    assert np.isfinite(lift_off_slope_on_bump(machine, 0.185))
    assert np.isnan(lift_off_slope_on_bump(machine, 0.20))


def test_not_where_the_axle_stop_is_reached_first():
    machine, height = tractor_g(), 0.150
    axis = np.array([1.70, 0.55, 0.45]) / np.linalg.norm([1.70, 0.55, 0.45])

    def raised(angle):
        return Rotation.from_rotvec(angle * axis).apply([0.0, 1.10, 0.0])[2] - height

    turn = Rotation.from_rotvec(brentq(raised, 0.0, 0.5, xtol=1e-14) * axis)
    roll = turn.as_euler("ZYX")[2]  # of the body on its axle, which stays level
    assert np.isfinite(lift_off_slope_on_bump(replace(machine, swing=roll * (1 + 1e-9)), height))
    assert np.isnan(lift_off_slope_on_bump(replace(machine, swing=roll * (1 - 1e-9)), height))
