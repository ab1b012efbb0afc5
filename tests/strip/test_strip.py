"""Strips of real cases against brute force, and what they refuse."""

from math import degrees, radians

import numpy as np
import pytest
from start import crabbed_lift_off

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.facts import has_reached, is_short_of
from sidehill.scenario.file import load_scenario
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.strip import Strip, take_strip
from sidehill.workers import mapped

CREEPING = ['drive.speed="3 km/h"']


def stone(**outfit: object) -> Case:
    return Case(load_machine("bramble"), load_scenario("bank-stone", CREEPING), Outfit(**outfit))


@pytest.fixture(scope="module")
def strip() -> Strip:
    return take_strip(stone(bucket_load="250 kg"), scan=radians(1.0), tolerance=radians(0.1))


def contradictions(case: Case, strip: Strip, spacing: float) -> list[tuple[str, float]]:
    """Values at which a run says otherwise than the limits read off the strip, the last
    narrowing step and what lies beyond an alternation aside."""
    values = np.arange(strip.spots[0].value, strip.spots[-1].value, spacing)
    found = mapped(lambda v: run(case.with_slope(float(v)), "compiled").outcome, list(values), True)
    wrong = []
    for event in ALL_EVENTS:
        limit = strip.limit(event)
        for value, outcome in zip(values, found, strict=True):
            short = is_short_of(event, *outcome.facts)
            if limit.good_up_to is not None and value <= limit.good_up_to and not short:
                wrong.append((event, degrees(value)))
            first = limit.first_bad if limit.first_bad is not None else np.inf
            reached = has_reached(event, *outcome.facts[:2])
            if value < first - strip.tolerance and reached and not limit.alternates:
                wrong.append((event, degrees(value)))
    return wrong


def test_no_run_contradicts_the_limits(strip: Strip) -> None:
    assert contradictions(stone(bucket_load="250 kg"), strip, radians(0.7)) == []


@pytest.mark.slow
@pytest.mark.parametrize("height", ["carry", "full"])
def test_no_run_of_a_fine_scan_contradicts_the_limits(height: str) -> None:
    case = stone(bucket_load="250 kg", bucket_height=height)
    strip = take_strip(case)
    wrong = contradictions(case, strip, radians(0.05))
    assert wrong == []


def test_both_sides_of_every_change_have_the_last_word(strip: Strip) -> None:
    for a, b in zip(strip.spots, strip.spots[1:], strict=False):
        if a.facts != b.facts:
            assert a.step == b.step == 1e-3
            assert b.value - a.value <= strip.tolerance + 1e-12
            assert a.again is not None and b.again is not None


def test_until_narrows_only_what_decides(strip: Strip) -> None:
    case = stone(bucket_load="250 kg")
    few = take_strip(case, scan=radians(1.0), tolerance=radians(0.1), until=["on_stop"])
    assert few.runs < strip.runs
    assert few.limit("on_stop").good_up_to == strip.limit("on_stop").good_up_to


def test_without_an_obstacle_planted_ends_at_lift_off_in_the_crabbed_stance() -> None:
    case = Case(load_machine("sorrel"), load_scenario("bank-plain", CREEPING))
    strip = take_strip(case, low=radians(20.0), high=radians(28.0), scan=radians(1.0), check=False)
    planted = strip.limit("hopped").good_up_to
    assert planted is not None
    # standing it is within 0.12 deg (design); driven, the pull at the rear takes a little more
    assert abs(planted - crabbed_lift_off(case)) < radians(0.2)
    assert strip.bands()[-1].facts == ("on_stop", "not_started", False)


def test_speed_and_bump_strips_hold_the_slope() -> None:
    case = stone(bucket_load="250 kg").with_slope(radians(8.0))
    bump = take_strip(case, "bump", scan=0.03, tolerance=0.01, check=False)
    assert bump.spots[0].outcome.stability == "planted"
    assert bump.limit("on_stop").first_bad is not None
    speed = take_strip(case, "speed", scan=0.5, tolerance=0.2, high=2.5, check=False)
    data = speed.to_dict()
    assert data["unit"] == "m/s" and len(data["values"]) == len(data["progress"])
    assert set(data["events"]) == {"hopped", "lifted", "on_stop", "overturned", "not_across"}


@pytest.mark.parametrize(
    ("how", "message"),
    [
        ({"of": "grade"}, "limit of 'grade' is not known; use slope, speed, bump"),
        ({"of": "bump", "feature": 2}, "feature 2: the scenario has 1"),
        ({"low": radians(9.0), "high": radians(8.0)}, "must be below"),
        ({"until": ["crossed"]}, "until 'crossed' is not known"),
        ({"tolerance": radians(2.0)}, "tolerance"),
    ],
)
def test_what_cannot_be_asked_is_refused(how: dict, message: str) -> None:
    with pytest.raises(InputError, match=message):
        take_strip(stone(), **how)


def test_a_tilt_table_has_no_strip() -> None:
    case = Case(load_machine("sorrel"), load_scenario("tilt-table"))
    with pytest.raises(InputError, match="nothing is driven on a tilt table"):
        take_strip(case)
