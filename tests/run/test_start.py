"""Where a machine can start: up to just below compliant lift-off in its crabbed stance."""

from math import degrees, radians

import pytest
from population import MACHINES, RATED
from start import crabbed_lift_off

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.scenario.file import load_scenario

BELOW = 0.12  # [deg] of lift-off (design)
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


def check(name: str, outfit: str) -> float:
    case = case_of(name, outfit)
    lift = crabbed_lift_off(case)
    assert starts(case, lift - radians(BELOW)), degrees(lift)
    assert not starts(case, lift + radians(0.02)), degrees(lift)
    return lift


@pytest.mark.parametrize("name", MACHINES)
def test_it_starts_up_to_its_lift_off(name: str) -> None:
    check(name, "loaded high")


@pytest.mark.slow
@pytest.mark.parametrize("outfit", OUTFITS)
@pytest.mark.parametrize("name", MACHINES)
def test_it_starts_up_to_its_lift_off_in_every_outfit(name: str, outfit: str) -> None:
    check(name, outfit)


def test_past_its_lift_off_it_leans_or_goes_over_and_says_which() -> None:
    case = case_of("bramble", "loaded low")
    lift = crabbed_lift_off(case)
    leaning = run(case.with_slope(lift + radians(0.5)), "compiled").outcome
    assert leaning.facts == ("on_stop", "not_started", False)
    gone = run(case.with_slope(lift + radians(9.0)), "compiled").outcome
    assert gone.facts == ("overturned", "not_started", False)
