"""The blow on the stop: a share of energy by hand, and what it explains of the simulated fall."""

from math import degrees

import numpy as np
import pytest
from crosscheck.subjects import ALL, IDS, loaded
from population import MACHINES
from scipy.spatial.transform import Rotation

from sidehill.crosscheck.blow import kept_share, overturn_slope_with_blow
from sidehill.crosscheck.remainder import remainder
from sidehill.machine.outfit import Outfit
from sidehill.spread.subject import load_subject
from sidehill.statics.path import first_line, on_stop
from sidehill.statics.slopes import lift_off_slope, overturn_slope, second_stage_slope

EXPLAINED = 0.25  # [deg] simulated fall on hard tyres against closed form with the blow


@pytest.mark.parametrize(("name", "outfit"), ALL, ids=IDS)
def test_kept_share_from_point_masses(name: str, outfit: Outfit) -> None:
    """Body and axle as clouds of points with their masses' own second moments."""
    subject = load_subject(name, outfit)
    t, fitted = subject.tipping, subject.fitted
    stop, first, line = on_stop(t), np.array(first_line(t)), np.array(on_stop(t).line)
    contact = np.array([0.0, -t.rear_track / 2, 0.0])
    turn = Rotation.from_rotvec(np.arctan2(stop.sin, stop.cos) * first)
    ahead = turn.apply([1.0, 0.0, 0.0])
    yaw = Rotation.from_rotvec([0.0, 0.0, np.arctan2(ahead[1], ahead[0])])
    pin_foot = np.array([t.wheelbase, 0.0, 0.0]) - contact
    before = after = momentum = 0.0
    for part in fitted.parts:
        is_axle = part.link in ("front_axle", "knuckle_left", "knuckle_right") or (
            part.link.startswith("wheel_front")
        )
        moments, axes = np.linalg.eigh(part.inertia)
        second = np.maximum(moments.sum() / 2 - moments, 0.0)  # [kg m^2] along each axis
        for k in range(3):
            for side in (-1, 1):
                mass = part.mass / 6
                at = part.cg - contact + side * axes[:, k] * np.sqrt(3 * second[k] / part.mass)
                if is_axle:
                    at = pin_foot + yaw.apply(at - pin_foot)
                    velocity = first[2] * np.cross([0.0, 0.0, 1.0], at - pin_foot)
                else:
                    at = turn.apply(at)
                    velocity = np.cross(first, at)
                    before += mass * velocity @ velocity
                momentum += mass * line @ np.cross(at, velocity)
                after += mass * (at @ at - (at @ line) ** 2)
    assert kept_share(fitted) == pytest.approx(momentum**2 / after / before, rel=1e-3)
    assert 0.4 < kept_share(fitted) < 0.8


@pytest.mark.parametrize(("name", "outfit"), ALL, ids=IDS)
def test_the_blow_raises_the_overturn_slope_within_its_bounds(name: str, outfit: Outfit) -> None:
    subject = load_subject(name, outfit)
    t, found = subject.tipping, overturn_slope_with_blow(subject.fitted)
    assert overturn_slope(t) <= found + 1e-12
    assert lift_off_slope(t) <= found <= max(lift_off_slope(t), second_stage_slope(t))


def test_without_loss_it_is_the_fall_through_slope(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sidehill.crosscheck.blow.kept_share", lambda fitted: 1.0)
    for name in MACHINES:
        subject = loaded(name)
        expected = float(overturn_slope(subject.tipping))
        assert overturn_slope_with_blow(subject.fitted) == pytest.approx(expected, abs=1e-9)


def test_with_all_of_it_lost_it_is_near_the_second_stage(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sidehill.crosscheck.blow.kept_share", lambda fitted: 0.0)
    subject = loaded("bramble")
    expected = float(second_stage_slope(subject.tipping))
    assert overturn_slope_with_blow(subject.fitted) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize("name", MACHINES)
def test_the_blow_explains_the_simulated_fall(name: str) -> None:
    """Free fall against fall-through: the remainder explained (design)."""
    found = remainder(loaded(name))
    print(f"{name} loaded: {found.to_dict()}")
    assert found.hard_tyres is not None
    assert found.hard_tyres == pytest.approx(found.with_blow, abs=EXPLAINED)
    assert found.hard_tyres - found.no_loss > 0.5  # without it far more is left


def test_a_tighter_axle_stop_goes_over_later() -> None:
    load = {"bucket_load": "252 kg", "bucket_height": "full"}
    wide, tight = (
        degrees(overturn_slope_with_blow(load_subject("bramble", outfit).fitted))
        for outfit in (Outfit(**load), Outfit(**load, front_axle_swing="4 deg"))
    )
    assert tight > wide + 2.0
