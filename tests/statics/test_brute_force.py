"""Closed forms against points turned numerically, for any plausible machine and grade.

The path keeps the front axle flat while its pin stays put, so on a grade its lift-off leaves out
that the axle's own weight pitches the body: it is compared where the axle weighs nothing.
"""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from statics import brute_force
from statics.examples import HIGH_BUCKET, machines, tractor_g

from sidehill.statics.energy import energy_to_tip
from sidehill.statics.flaw import sound
from sidehill.statics.slopes import (
    front_lifts_first,
    lift_off_slope,
    overturn_slope,
    second_stage_slope,
)

grades = st.sampled_from([0.0, 0.0, 0.2, -0.2])
ANGLE = 1e-4  # [rad] the brute force turns in steps of up to 8e-5 rad
several = settings(max_examples=60)


def on_the_path(machine, grade):
    """The machine as far as the path knows it; others are another test's."""
    machine = machine if grade == 0.0 else replace(machine, axle_mass=0.0)
    assume(sound(machine, grade) and not front_lifts_first(machine, grade))
    return machine


@several
@given(machines(), grades)
def test_slopes(machine, grade):
    machine = on_the_path(machine, grade)
    path = brute_force.two_stages(machine)
    lift = lift_off_slope(machine, grade)
    assert lift == pytest.approx(brute_force.lift_off(path, grade), abs=ANGLE)
    expected = brute_force.second_stage(path, grade)
    assert second_stage_slope(machine, grade) == pytest.approx(expected, abs=ANGLE)


@several
@given(machines(), grades)
def test_overturn(machine, grade):
    machine = on_the_path(machine, grade)
    path = brute_force.two_stages(machine)
    assert overturn_slope(machine, grade) == pytest.approx(
        brute_force.overturn(path, grade), abs=ANGLE
    )


@several
@given(machines(), grades, st.floats(0.0, 1.0))
def test_energy(machine, grade, share):
    machine = on_the_path(machine, grade)
    slope = share * float(lift_off_slope(machine, grade))
    path = brute_force.two_stages(machine)
    # The scan's step is at most 8e-5 rad: it misses the top by under 4e-9 of M g r.
    assert energy_to_tip(machine, slope, grade) == pytest.approx(
        brute_force.energy(path, slope, grade), abs=1e-3, rel=1e-6
    )


def test_the_fall_from_lift_off_clears_the_second_barrier():
    # With the 300 kg high load about 127 J are left past it (derived).
    path = brute_force.two_stages(tractor_g(HIGH_BUCKET))
    barrier = brute_force.second_barrier(path, brute_force.lift_off(path, 0.0), 0.0)
    assert -barrier == pytest.approx(127.0, abs=0.6)
