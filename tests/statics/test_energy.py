"""Energy to tip: the planar textbook body and the two-stage path."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from statics.examples import machines, tractor_g

from sidehill.statics.energy import (
    critical_roll_rate,
    energy_to_tip,
    line_inertia,
    side_trip_speed,
)
from sidehill.statics.flaw import sound
from sidehill.statics.planar import planar_energy, planar_roll_rate, planar_trip_speed
from sidehill.statics.slopes import front_lifts_first
from sidehill.statics.tipping import Tipping

SLOPES = np.radians([0.0, 10.0, 15.0, 20.0, 25.0])
PRINTED = 0.005  # relative


def test_planar_body():
    # Derived; the level trip speed is NHTSA's critical sliding velocity (formula from memory).
    energies = planar_energy(1500.0, 1.10, 0.70, SLOPES)
    rates = planar_roll_rate(1500.0, 1.10, 0.70, 450.0, SLOPES)
    speeds = planar_trip_speed(1500.0, 1.10, 0.70, 450.0, SLOPES)
    assert energies == pytest.approx([2799, 1550, 1055, 652, 344], rel=PRINTED)
    assert rates == pytest.approx([1.848, 1.376, 1.135, 0.892, 0.648], rel=PRINTED)
    assert speeds == pytest.approx([2.885, 2.147, 1.771, 1.393, 1.011], rel=PRINTED)


def test_planar_body_past_its_balance_needs_nothing():
    assert planar_energy(1500.0, 1.10, 0.70, np.radians(38.2)) == 0.0
    assert planar_energy(1500.0, 1.10, 0.70, np.radians(38.1)) > 0.0


@pytest.mark.parametrize(("slope", "expected"), [(25.0, 108.0), (28.0, 16.0)])
def test_two_stage_path_of_tractor_g(slope, expected):
    # Derived, printed as "about": to the last digit shown.
    assert energy_to_tip(tractor_g(), np.radians(slope)) == pytest.approx(expected, abs=0.6)


def test_a_long_machine_with_a_low_pin_is_the_planar_body():
    # The first line is then the edge itself, and with a wide swing stage one is all there is.
    machine = replace(tractor_g(), wheelbase=1e4, x=0.01, pin_height=1e-6, swing=np.radians(85.0))
    planar = (1500.0, 1.10, 0.70)
    assert energy_to_tip(machine, SLOPES) == pytest.approx(planar_energy(*planar, SLOPES), rel=1e-3)
    assert critical_roll_rate(machine, SLOPES) == pytest.approx(
        planar_roll_rate(*planar, 450.0, SLOPES), rel=1e-3
    )
    assert side_trip_speed(machine, SLOPES) == pytest.approx(
        planar_trip_speed(*planar, 450.0, SLOPES), rel=1e-3
    )


def test_the_planar_formula_overstates_a_pivoting_axle():
    planar = planar_energy(1500.0, 1.10, 0.70, SLOPES)
    ratio = planar / energy_to_tip(tractor_g(), SLOPES)
    assert np.all(np.diff(ratio) > 0)
    assert ratio[-1] > 3


def test_without_an_inertia_there_is_no_rate():
    machine = replace(tractor_g(), inertia=np.full((3, 3), np.nan))
    assert np.isfinite(energy_to_tip(machine, 0.1))
    assert np.isnan(critical_roll_rate(machine, 0.1))
    assert np.isnan(side_trip_speed(machine, 0.1))


def test_roll_inertia_counts_about_the_line():
    # The tensor's parts enter by the squares of the line's direction: x most, 0.82 of it here.
    machine = tractor_g()
    rates = [
        critical_roll_rate(replace(machine, inertia=np.diag(own)), 0.2)
        for own in ([0.0, 0, 0], [100.0, 0, 0], [0, 100.0, 0], [0, 0, 100.0])
    ]
    gains = np.array([1 / rate**2 - 1 / rates[0] ** 2 for rate in rates[1:]])
    squares = np.array([1.70, 0.55, 0.45]) ** 2
    assert gains / gains.sum() == pytest.approx(squares / squares.sum())


def test_without_a_given_inertia_it_is_unknown():
    machine = Tipping(
        mass=1500.0, x=0.75, y=0.0, h=0.70, axle_mass=0.0, axle_h=0.45, wheelbase=1.70,
        pin_height=0.45, rear_track=1.10, front_track=1.05, swing=0.17,
    )  # fmt: skip
    assert np.isnan(critical_roll_rate(machine, 0.1))


def test_it_needs_nothing_more_past_the_second_barrier():
    machine, slope = tractor_g(), np.radians(60.0)
    assert energy_to_tip(machine, slope) == 0.0


def pin_line(machine):
    """Unit vector from the downhill rear contact to the pin."""
    line = np.array([machine.wheelbase, machine.rear_track / 2, machine.pin_height])
    return line / np.linalg.norm(line)


@given(machines())
def test_the_trip_speed_keeps_the_angular_momentum_about_the_first_line(machine):
    """Sliding down along y and caught: the momentum about the line is that of the turn after."""
    assume(sound(machine) and not front_lifts_first(machine))
    speed, energy = side_trip_speed(machine, 0.0), energy_to_tip(machine, 0.0)
    line = pin_line(machine)
    cg = np.array([machine.x, machine.y + machine.rear_track / 2, machine.h])
    before = abs(line @ np.cross(cg, [0.0, -machine.mass * speed, 0.0]))
    inertia = line @ machine.inertia @ line + machine.mass * (cg @ cg - (line @ cg) ** 2)
    assert before == pytest.approx(np.sqrt(2 * energy * inertia))


@given(machines())
def test_the_critical_roll_rate_is_what_a_gyro_along_the_machine_shows(machine):
    assume(sound(machine) and not front_lifts_first(machine))
    rate, energy = critical_roll_rate(machine, 0.0), energy_to_tip(machine, 0.0)
    line = pin_line(machine)
    about_line = line * np.sqrt(2 * energy / line_inertia(machine))  # [rad/s]
    assert rate == pytest.approx(about_line @ [1.0, 0.0, 0.0])
