"""Closed forms against equilibrium equations solved by numbers, on random fittings and grades."""

import numpy as np
import pytest
from statics import equilibrium
from statics.examples import narrow_tractor, tractor_g

from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.assembly import from_fitted
from sidehill.statics.flaw import sound
from sidehill.statics.loads import balance
from sidehill.statics.polar import LIFTS, round_slope
from sidehill.statics.slopes import (
    front_lifts_first,
    lift_off_slope,
    lift_off_tangents,
    overturn_slope,
    rigid_slope,
    second_stage_slope,
)

EXACT = 1e-9  # [deg]
PRINTED = 1.0  # [N]
GRADES = (0.0, -0.3, -0.12, 0.07, 0.2, 0.35)  # [rad]
FITTINGS = 60


def draw(random):
    """A shipped machine in an outfit drawn at random."""
    machine = load_machine(str(random.choice(["sorrel", "bramble", "hawthorn"])))
    low, high = machine.loader.carry_height, machine.loader.full_height
    outfit = Outfit(
        rear_spacer=f"{random.uniform(0, 150)} mm",
        front_spacer=f"{random.uniform(0, 150)} mm",
        bucket_load=f"{random.uniform(0, machine.loader.rated_load)} kg",
        bucket_height=f"{random.uniform(low, high)} m",
        rear_fill=float(random.choice([0.0, 0.75])),
        rear_ballast=f"{random.uniform(0, 300)} kg",
        operator_lean=f"{random.uniform(-0.3, 0.3)} m",
        front_axle_swing=f"{random.uniform(0.2, 1) * np.degrees(machine.front_axle.swing)} deg",
    )
    return from_fitted(fit(machine, outfit))


def fittings():
    """Fittings of shipped machines, the outside examples, and heavy high front axles."""
    random = np.random.default_rng(16)
    drawn = [draw(random) for _ in range(FITTINGS)]
    narrow = narrow_tractor(front_track=0.35)
    return [*drawn, tractor_g(), narrow_tractor(), narrow]


MACHINES = fittings()
BY_NUMBER = pytest.mark.parametrize("number", range(len(MACHINES)))


def on_grades(number):
    """The machine and the grades that it stands on."""
    machine = MACHINES[number]
    return [(machine, grade) for grade in GRADES if sound(machine, grade)]


def test_enough_of_them_are_looked_at():
    cases = [case for number in range(len(MACHINES)) for case in on_grades(number)]
    assert len(MACHINES) > 52
    assert len(cases) > 300
    assert any(front_lifts_first(*case) for case in cases)


@pytest.mark.parametrize(
    ("grade", "expected"),
    [
        (0.0, [3855, 2415, 5708, 2235]),
        (10.0, [3292, 1872, 6135, 2712]),
        (-10.0, [4309, 2890, 5118, 1695]),
    ],
)
def test_the_equations_give_the_printed_loads(grade, expected):
    # Tractor G on 15 deg, the holding force equal left and right (derived, textbook statics).
    tangents = np.tan(np.radians([15.0, grade]))
    toward = -np.array([tangents[1], tangents[0], 1.0])
    loads = equilibrium.solve(tractor_g(), toward / np.linalg.norm(toward), 0.5)[:4]
    assert 9.81 * loads == pytest.approx(expected, abs=PRINTED)


@BY_NUMBER
def test_lift_off_is_where_the_first_wheel_carries_nothing(number):
    for machine, grade in on_grades(number):
        expected, loads = equilibrium.lift_off(machine, grade)
        assert np.degrees(lift_off_slope(machine, grade)) == pytest.approx(
            np.degrees(expected), abs=EXACT
        )
        assert bool(front_lifts_first(machine, grade)) is (int(np.argmin(loads)) < 2)


@BY_NUMBER
def test_loads_up_to_lift_off_and_past_it(number):
    for machine, grade in on_grades(number):
        lift = float(lift_off_slope(machine, grade))
        for slope in (0.0, 0.5 * lift, lift, 1.2 * lift):
            across, ahead = np.tan(slope), np.tan(grade)
            square = 9.81 / np.sqrt(1 + across**2 + ahead**2)
            expected = square * equilibrium.loads(machine, across, ahead)
            assert balance(machine, slope, grade) == pytest.approx(
                expected, abs=1e-10 * 9.81 * machine.whole_mass
            )


@BY_NUMBER
def test_second_stage_and_fall_through(number):
    for machine, grade in on_grades(number):
        second = equilibrium.second_stage(machine, grade)
        assert np.degrees(second_stage_slope(machine, grade)) == pytest.approx(
            np.degrees(second), abs=EXACT
        )
        lift = lift_off_slope(machine, grade)
        over = lift if front_lifts_first(machine, grade) else equilibrium.overturn(machine, grade)
        assert np.degrees(overturn_slope(machine, grade)) == pytest.approx(
            np.degrees(over), abs=EXACT
        )


@BY_NUMBER
def test_the_front_lifts_first_just_where_the_whole_would_tip_before_the_body(number):
    for machine, grade in on_grades(number):
        front, rear = lift_off_tangents(machine, grade)
        rigid = np.tan(rigid_slope(machine, grade))
        assert bool(front_lifts_first(machine, grade)) is bool(rear > rigid)
        assert min(front, rear) <= rigid


@pytest.mark.parametrize("number", [n for n, one in enumerate(MACHINES) if sound(one)][::4])
def test_all_round(number):
    machine = MACHINES[number]
    for direction in np.radians([0, 10, 45, 90, 120, 160, 178, 180, 200, 270, 300]):
        expected, loads = equilibrium.round_lift_off(machine, direction)
        found = round_slope(machine, direction)
        assert np.degrees(found.slope) == pytest.approx(np.degrees(expected), abs=EXACT)
        nothing = [
            name for name, load in zip(equilibrium.WHEELS, loads, strict=True) if load < 1e-6
        ]
        name = LIFTS[int(found.lifts)]
        if name.startswith("both"):
            assert nothing == [wheel for wheel in equilibrium.WHEELS if wheel.startswith(name[5:])]
        else:
            assert nothing == [name]
