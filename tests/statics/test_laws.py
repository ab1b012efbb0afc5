"""What must hold of any machine."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from statics.examples import machines

from sidehill.statics.energy import critical_roll_rate, energy_to_tip, side_trip_speed
from sidehill.statics.flaw import sound
from sidehill.statics.slopes import (
    front_lifts_first,
    lift_off_slope,
    overturn_slope,
    rigid_slope,
    second_stage_slope,
)

SLOPES = (lift_off_slope, second_stage_slope, overturn_slope, rigid_slope)
NOISE = 1e-9  # [rad]
more = st.floats(0.001, 0.4)


def swings(machine):
    """Whether it stands on the level and its body is the first thing to go."""
    return sound(machine) and not front_lifts_first(machine)


@given(machines(), more)
def test_a_wider_rear_never_lowers_lift_off(machine, wider):
    assume(swings(machine))
    wide = replace(machine, rear_track=machine.rear_track + wider)
    assume(swings(wide))
    assert lift_off_slope(wide) > lift_off_slope(machine)


@given(machines(), more)
def test_a_higher_cg_never_raises_a_slope(machine, higher):
    assume(sound(machine))
    high = replace(machine, h=machine.h + higher)
    for slope in (lift_off_slope, overturn_slope, rigid_slope):
        assert slope(high) < slope(machine) + NOISE


@given(machines(), more)
def test_front_track_leaves_lift_off_alone_and_raises_the_second_stage(machine, wider):
    assume(swings(machine))
    wide = replace(machine, front_track=machine.front_track + wider)
    assert lift_off_slope(wide) == lift_off_slope(machine)
    assert second_stage_slope(wide) > second_stage_slope(machine)
    assert overturn_slope(wide) >= overturn_slope(machine) - NOISE


@given(machines(), st.floats(0.1, 10.0))
def test_scaling_all_masses_changes_no_angle(machine, factor):
    assume(sound(machine))
    heavy = replace(
        machine,
        mass=factor * machine.mass,
        axle_mass=factor * machine.axle_mass,
        inertia=factor * machine.inertia,
    )
    for slope in SLOPES:
        assert slope(heavy) == pytest.approx(float(slope(machine)), abs=NOISE)
    for figure, grows in ((energy_to_tip, factor), (critical_roll_rate, 1), (side_trip_speed, 1)):
        expected = grows * float(figure(machine, 0.1))
        assert figure(heavy, 0.1) == pytest.approx(expected, nan_ok=True)


@given(machines(), st.floats(0.2, 5.0))
def test_scaling_all_lengths_changes_no_angle(machine, factor):
    assume(sound(machine))
    lengths = ("x", "y", "h", "axle_h", "wheelbase", "pin_height", "rear_track", "front_track")
    large = replace(machine, **{name: factor * getattr(machine, name) for name in lengths})
    for slope in SLOPES:
        assert slope(large) == pytest.approx(float(slope(machine)), abs=NOISE)


@given(machines())
def test_overturn_lies_between_lift_off_and_second_stage(machine):
    assume(sound(machine))
    lift, second = lift_off_slope(machine), second_stage_slope(machine)
    assert lift <= overturn_slope(machine) <= max(lift, second)


@given(machines(), st.floats(0.0, 0.99))
def test_a_tighter_stop_never_lowers_overturn(machine, share):
    assume(sound(machine))
    tight = replace(machine, swing=share * machine.swing)
    assert overturn_slope(tight) >= overturn_slope(machine) - NOISE


@given(machines())
def test_without_swing_the_second_stage_is_the_rigid_slope(machine):
    assume(sound(machine))
    stiff = replace(machine, swing=0.0)
    assert second_stage_slope(stiff) == pytest.approx(float(rigid_slope(machine)), abs=NOISE)


@given(machines())
def test_energy_falls_with_slope_to_nothing_at_overturn(machine):
    assume(swings(machine))
    overturn = float(overturn_slope(machine))
    energies = energy_to_tip(machine, np.linspace(0.0, overturn, 50))
    assert np.all(np.diff(energies) < 1e-9)
    assert energies[0] > 0
    assert energies[-1] == pytest.approx(0.0, abs=1e-6 * energies[0] + 1e-9)


@given(machines(), st.floats(-0.1, 0.1))
def test_an_array_gives_what_each_machine_gives_alone(machine, step):
    assume(sound(machine))
    heights = machine.h + step * np.arange(3)
    together = [slope(replace(machine, h=heights)) for slope in SLOPES]
    alone = [[slope(replace(machine, h=h)) for h in heights] for slope in SLOPES]
    np.testing.assert_allclose(together, alone, rtol=1e-13)
