"""Where a machine can start: up to just below compliant lift-off in its crabbed stance."""

from math import degrees, inf, radians

import numpy as np
import pytest
from population import MACHINES, RATED
from start import crabbed_lift_off

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.scenario.file import load_scenario

BELOW = 0.12  # [deg] of lift-off (design)
FURTHEST = 0.20  # [deg] the same of the few that miss it
OUTFITS = {
    "bare": {},
    "loaded low": {"load": 0.6},
    "loaded high": {"load": 0.6, "bucket_height": "full"},
    "empty high": {"bucket_height": "full"},
    "rear spacers": {"rear_spacer": "76 mm"},
    "front spacers": {"front_spacer": "76 mm"},
    "both spacers": {"rear_spacer": "76 mm", "front_spacer": "76 mm"},
    "fill": {"rear_fill": 0.75},
    "box": {"rear_ballast": "150 kg"},
    "high, spacers": {"load": 0.6, "bucket_height": "full", "rear_spacer": "76 mm"},
    "high, box": {"load": 0.6, "bucket_height": "full", "rear_ballast": "150 kg"},
    "low, fill": {"load": 0.6, "rear_fill": 0.75},
}


def case_of(name: str, outfit: str) -> Case:
    options = dict(OUTFITS[outfit])
    if "load" in options:
        options["bucket_load"] = f"{options.pop('load') * RATED[name]} kg"
    return Case(load_machine(name), load_scenario("bank-plain"), Outfit(**options))


def starts(case: Case, slope: float) -> bool:
    return run(case.with_slope(slope), "compiled").outcome.progress != "not_started"


def starts_below(name: str, outfit: str) -> float:
    """[deg] below lift-off, of those tried, at which it starts; infinite if at none."""
    case = case_of(name, outfit)
    lift = crabbed_lift_off(case)
    assert not starts(case, lift + radians(0.02)), degrees(lift)
    below = (BELOW, *np.arange(BELOW + 0.02, FURTHEST + 0.001, 0.02))
    return next(float(d) for d in (*below, inf) if d == inf or starts(case, lift - radians(d)))


@pytest.mark.parametrize("name", MACHINES)
def test_it_starts_up_to_its_lift_off(name: str) -> None:
    assert starts_below(name, "loaded high") == BELOW


@pytest.mark.slow
def test_it_starts_up_to_its_lift_off_in_every_outfit() -> None:
    """All but one within what the design asks, and that to the harsher side.

    It is not the ramp that keeps that one back: over 24 s it starts no higher.
    """
    found = {(name, outfit): starts_below(name, outfit) for name in MACHINES for outfit in OUTFITS}
    late = {key: below for key, below in found.items() if below > BELOW}
    print(f"{len(found)} outfits, {len(late)} start further than {BELOW} deg below: {late}")
    assert max(found.values()) <= FURTHEST
    assert len(late) <= 1
