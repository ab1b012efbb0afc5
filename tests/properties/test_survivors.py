"""What mutants of statics and outcome had survived, asserted."""

from math import asin, atan, degrees, radians

import numpy as np
import pytest

from sidehill.files.errors import InputError
from sidehill.kernels.layout import ACROSS, CASE, STATE, blank
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.outcome import read
from sidehill.statics.assembly import from_fitted
from sidehill.statics.axles import axle_loads
from sidehill.statics.bump import lift_off_slope_on_bump
from sidehill.statics.report import tip
from sidehill.statics.tipping import GRAVITY


@pytest.mark.parametrize("slope", [100.0, 90.0, -1.0])
def test_a_slope_past_the_vertical_is_refused(slope: float) -> None:
    with pytest.raises(InputError, match="not from 0 to less than 90 deg"):
        tip(fit(load_machine("bramble"), Outfit()), slope=radians(slope))


def test_the_usual_friction() -> None:
    found = tip(fit(load_machine("bramble"), Outfit()))
    assert found.slide_slope_deg == pytest.approx(degrees(atan(0.7)))


def test_weak_brakes_hold_what_their_torque_holds_at_the_tyres_radius() -> None:
    machine = load_machine("bramble").with_values({"drive.brake_torque": 400.0})
    found = tip(fit(machine, Outfit()), friction=1.5)
    force = 400.0 / machine.rear_tyre.radius
    assert found.grade_hold_deg == pytest.approx(degrees(asin(force / (GRAVITY * found.mass_kg))))


def test_axles_carry_the_level_weight_between_them() -> None:
    fitted = fit(load_machine("bramble"), Outfit(rear_ballast="100 kg"))
    front, rear = axle_loads(fitted)
    assert front == pytest.approx(fitted.mass * fitted.cg[0] / fitted.machine.body.wheelbase)
    assert front + rear == pytest.approx(fitted.mass)


def test_seconds_and_stop_hits_are_read_off_the_state() -> None:
    state = blank(STATE)
    state["finish"], state["started"], state["step"] = ACROSS, 1.0, 5000
    case = blank(CASE)
    case["step"] = 2e-3
    assert read(state, case).sim_s == pytest.approx(10.0)
    assert read(state, case).stop_hits == 0
    state["stop_hits"] = 1.0
    assert read(state, case).stop_hits == 1


def test_a_bump_that_swings_the_axle_onto_its_stop_has_no_lift_off() -> None:
    """The hinge angle at asin(H / T) is just over that for a pin line that rises a little."""
    tipping = from_fitted(fit(load_machine("bramble"), Outfit()))
    heights = tipping.rear_track * np.sin(tipping.swing) * np.array([0.97, 1.03])
    below, above = lift_off_slope_on_bump(tipping, heights)
    assert np.isfinite(below)
    assert np.isnan(above)
