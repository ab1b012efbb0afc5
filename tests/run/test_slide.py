"""Parked on a table of little grip a machine slides, and does not tip, at atan(friction)."""

from math import atan, degrees

import numpy as np
import pytest
from population import MACHINES

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import WHEELS
from sidehill.run.record import simulate
from sidehill.scenario.file import load_scenario


@pytest.mark.parametrize("name", MACHINES)
def test_slide_on_wet_grass_begins_at_the_friction_angle(name: str) -> None:
    """11.3 deg at 0.2, +-0.1 (friction: published, secondary, citing Noon 1994)."""
    table = load_scenario("tilt-table", ["ground.friction=0.2", "ground.slope=14 deg"])
    record = simulate(Case(load_machine(name), table), "mujoco")
    slip = np.min([record.columns[f"slip_{wheel}"] for wheel in WHEELS], axis=0)
    slope = record.columns["slope_deg"]
    begins = slope[np.argmax(slip >= 1.0)]
    assert begins == pytest.approx(degrees(atan(0.2)), abs=0.1)
    # to the right, which is downhill, and not by tipping
    assert record.columns["off_path_m"][-1] < -0.1
    assert record.columns["roll_slope_deg"].max() < 3.0


@pytest.mark.parametrize("engine", ["compiled", "mujoco"])
@pytest.mark.parametrize("name", MACHINES)
def test_a_slide_straight_back_down_a_grade_is_one(name: str, engine: str) -> None:
    """It is not followed until its numbers go bad."""
    bank = load_scenario(
        "bank-plain", ["ground.slope=0 deg", "ground.grade=30 deg", "ground.friction=0.3"]
    )
    record = simulate(Case(load_machine(name), bank), engine)
    path = record.columns["path_m"]
    assert path.max() - path[-1] > 0.5 and np.abs(record.columns["off_path_m"]).max() < 0.1
    assert record.outcome.progress == "slid"
