"""The Code 6 calculation beyond its printed examples, which are in the table of checks."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sidehill.crosscheck import code6
from sidehill.crosscheck.examples import CODE6_1, CODE6_2
from sidehill.files.errors import InputError
from sidehill.statics.slopes import rigid_slope, second_stage_slope


@pytest.mark.parametrize("tractor", [CODE6_1, CODE6_2])
def test_inclination_by_a_rotation_matrix(tractor):
    tipping = tractor.tipping()
    axis = np.array([tipping.wheelbase, tractor.rear_track / 2, tractor.pin_height])
    turn = Rotation.from_rotvec(tractor.swing * axis / np.linalg.norm(axis)).as_matrix()
    cg = turn @ [tractor.cg_to_rear_axle, tractor.rear_track / 2, tractor.cg_height]
    assert list(code6.turned_cg(tipping)) == pytest.approx(cg)
    slope = np.arctan(cg[1] / cg[2])
    level = Rotation.from_rotvec([slope, 0.0, 0.0]).as_matrix() @ turn  # axes of the body
    roll = np.arctan2(level[2, 1], level[2, 2])
    assert code6.inclination(tipping) == pytest.approx(roll)
    assert 0.0 < slope + np.arctan2(turn[2, 1], turn[2, 2]) - roll < np.radians(0.025)


def test_without_swing_the_shortcut_is_the_rigid_machine():
    for front_track in (1.0, 1.115, 1.3):
        tipping = replace(CODE6_1.tipping(), swing=0.0, front_track=front_track)
        assert code6.second_stage_slope(tipping) == pytest.approx(float(rigid_slope(tipping)))
        assert code6.inclination(tipping) == pytest.approx(float(rigid_slope(tipping)))


def test_the_shortcut_overstates():
    tracks = 1.115 + np.linspace(0.0, 0.2, 9)
    for wider in ("rear_track", "front_track"):
        tipping = replace(CODE6_1.tipping(), **{wider: tracks})
        over = np.degrees(code6.second_stage_slope(tipping) - second_stage_slope(tipping))
        assert np.all((over > 0.3) & (over < 0.5))


def test_impact_on_the_tyres_keeps_angular_momentum(monkeypatch):
    # Without rebound the impulse acts at the tyre tops alone: the moment of momentum about them
    # before is Q O0 plus that of the CG, which moves about the contacts.
    monkeypatch.setattr(code6, "RESTITUTION", 0.0)
    t, result = CODE6_1, code6.roll(CODE6_1)
    below = -result.section.e4 * np.sin(result.section.d1 - result.section.a2)
    taper = np.arccos(result.o2 / result.o1)
    k4 = below / np.cos(taper)
    contact, top = np.array([t.half_width, -t.cg_height]), np.array([t.half_width, k4])
    speed = result.o0 * np.array([contact[1], -contact[0]])  # of the CG, seen from the contact
    before = t.roll_inertia * result.o0 + t.mass * (top[1] * speed[0] - top[0] * speed[1])
    after = t.roll_inertia + t.mass * top @ top
    assert result.o1 == pytest.approx(before / after)


def test_a_heavier_copy_rolls_alike():
    double = replace(CODE6_1, mass=2 * CODE6_1.mass, roll_inertia=2 * CODE6_1.roll_inertia)
    assert code6.roll(double).o4 == pytest.approx(code6.roll(CODE6_1).o4)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"cg_height": 0.45}, "stands on this bank"),
        ({"rear_tyre_width": 5.0}, "have to rise"),
        ({"frame_height": 1.0}, "reach past"),
        ({"frame_width": 1.4}, "narrower"),
        ({"rear_tyre_diameter": 1.9}, "come round"),  # thrown back by the tyres
        ({"rear_tyre_diameter": 1.48, "roll_inertia": 150.0}, "come round"),  # short of the top
    ],
)
def test_what_has_no_answer_is_refused(change, word):
    with pytest.raises(InputError, match=word):
        code6.roll(replace(CODE6_1, **change))
