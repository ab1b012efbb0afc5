"""Slow obstacles against the geometry of the rear axle (reference: derived, printed values)."""

from math import asin, degrees

import numpy as np
import pytest

from sidehill.case import Case
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario

TRACK = 1.10  # [m]
ROLL = 0.05  # [deg] for tyres of 5 MN/m or stiffer


def hard_narrow() -> Machine:
    """A tractor on thin tyres that hardly give, rear track 1.10 m."""
    return load_machine("bramble").with_values(
        {
            "rear_tyre.track": TRACK,
            "rear_tyre.stiffness": 1e7,
            "front_tyre.stiffness": 1e7,
            "rear_tyre.lateral_ratio": 1.5,
            "front_tyre.lateral_ratio": 1.5,
            "rear_tyre.width": 0.08,
            "front_tyre.width": 0.08,
            "rear_tyre.volume": 0.02,
            "front_tyre.volume": 0.01,
        }
    )


def crossing(machine: Machine, **feature: object) -> Record:
    """The record of crossing one feature at a crawl on level ground."""
    values = {"ground.slope": 0.0, "ground.rolling_resistance": 0.0, "drive.speed": 0.15}
    values |= {"course.length": 6.0, "feature.1.at": 3.4, "run.step": 0.25e-3}
    values |= {f"feature.1.{name}": value for name, value in feature.items()}
    return simulate(Case(machine, load_scenario("bank-stone").with_values(values)), "mujoco")


@pytest.mark.parametrize("height", [0.05, 0.10, 0.15])
@pytest.mark.parametrize(
    ("shape", "wheels", "length"), [("bump", "uphill", 2.0), ("hole", "downhill", 2.6)]
)
def test_slow_rear_wheel_obstacle_rolls_the_body_by_asin_h_over_s(
    shape: str, wheels: str, length: float, height: float
) -> None:
    """Expect 2.605, 5.216, 7.837 deg for 50, 100, 150 mm (derived)."""
    record = crossing(hard_narrow(), shape=shape, wheels=wheels, length=length, height=height)
    peak = record.columns["roll_slope_deg"].max()
    assert peak == pytest.approx(degrees(asin(height / TRACK)), abs=ROLL)
    assert record.outcome.progress == "across"


def test_a_bump_under_a_front_wheel_does_not_roll_the_body_before_the_stop() -> None:
    """The front track is so much wider that the rear wheel passes beside the bump."""
    machine = hard_narrow().with_values({"front_tyre.track": 1.4, "rear_tyre.track": 0.9})
    record = crossing(
        machine, shape="bump", y=0.70, wheels=None, length=1.0, height=0.08, width=0.3
    )
    pin = np.abs(record.columns["pin_deg"]).max()
    assert degrees(asin(0.08 / 1.4)) == pytest.approx(pin, abs=0.2)
    assert pin < degrees(machine.front_axle.swing)
    assert np.abs(record.columns["roll_slope_deg"]).max() < ROLL


def test_outfit_widening_moves_the_bump_with_the_wheel() -> None:
    """A bump lies under this option's own rear wheel, however wide the outfit."""
    bramble, bank = load_machine("bramble"), load_scenario("bank-stone")
    for spacer in ("0 mm", "150 mm"):
        record = simulate(Case(bramble, bank, Outfit(rear_spacer=spacer)), "mujoco")
        assert record.columns["roll_slope_deg"].max() > 4.0
