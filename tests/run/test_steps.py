"""Peaks must not depend on the time step, nor on where on its grid a bump happens to lie.

Shipped scenarios; random ones are in `test_accuracy`.
"""

import numpy as np
import pytest
from population import MACHINES, RATED, with_step

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.outcome import Facts
from sidehill.scenario.file import load_scenario

PEAK_ROLL = 0.03  # [deg] 1 kHz against 4 kHz, shipped scenarios (design)
SCATTER = 0.01  # [deg] the same bump moved by 0 to 50 mm (design)
COURSES = ("bank-plain", "bank-stone", "bank-rut")


def peak(case: Case) -> tuple[Facts, float]:
    outcome = run(case, "mujoco").outcome
    return outcome.facts, outcome.peak_roll_deg


@pytest.mark.parametrize("course", COURSES)
@pytest.mark.parametrize("name", MACHINES)
def test_shipped_scenarios_are_converged_at_1_khz(name: str, course: str) -> None:
    for load in (0.0, 0.6 * RATED[name]):
        case = Case(load_machine(name), load_scenario(course), Outfit(bucket_load=f"{load} kg"))
        facts, roll = peak(case)
        finer_facts, finer_roll = peak(with_step(case, 0.25e-3))
        assert facts == finer_facts
        assert roll == pytest.approx(finer_roll, abs=PEAK_ROLL)


def test_moving_the_bump_does_not_scatter_the_peak() -> None:
    case = Case(load_machine("bramble"), load_scenario("bank-stone"), Outfit(bucket_load="250 kg"))
    rolls = [peak(case.with_scenario({"feature.1.at": 5.0 + 0.005 * k}))[1] for k in range(11)]
    # the driver's way to the bump is longer each time: a slow trend, not scatter
    trend = np.polyval(np.polyfit(range(11), rolls, 1), range(11))
    assert np.ptp(rolls - trend) < SCATTER
    assert np.ptp(rolls) < SCATTER
