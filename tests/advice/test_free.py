"""What costs nothing is always looked at, whatever the study compares."""

from dataclasses import replace
from math import radians

import pytest
from advice.machines import lacking

from sidehill.advice.free import free_changes, up_and_down
from sidehill.machine.outfit import Outfit
from sidehill.study.study import Option, load_study

DEMO = load_study("demo")
HIGH = {"bucket_load": "250 kg", "bucket_height": "full"}


def study(outfit=None, machine=DEMO.machine, **scenario):
    changed = {"drive__speed": "5 km/h"} | scenario
    fields = {name.replace("__", "."): value for name, value in changed.items()}
    options = (Option("as delivered", Outfit(**(outfit or {}))),)
    changed = DEMO.scenario.with_values(fields)
    return replace(DEMO, machine=machine, options=options, scenario=changed)


def cases(plan):
    return {item.name: item.case for item in free_changes(plan) if item.case is not None}


def kept(plan):
    return {item.name: item.already for item in free_changes(plan) if item.case is None}


def test_a_fast_machine_with_a_loaded_bucket_high_has_all_of_them() -> None:
    found = cases(study(HIGH))
    half, low, both, empty = found.values()
    own = 5.0 / 3.6
    assert half.scenario.drive.speed == pytest.approx(own / 2)
    assert half.outfit.bucket_height == "full"
    assert (low.outfit.bucket_height, low.scenario.drive.speed) == ("carry", own)
    assert both.outfit.bucket_height == "carry"
    assert both.scenario.drive.speed == pytest.approx(own / 2)
    assert (empty.outfit.bucket_load, empty.outfit.bucket_height) == (0.0, "full")


@pytest.mark.parametrize(("speed", "is_asked"), [("2 km/h", False), ("2.1 km/h", True)])
def test_half_the_speed_is_asked_for_above_two_km_h(speed: str, is_asked: bool) -> None:
    names = " ".join(cases(study(HIGH, drive__speed=speed)))
    assert ("half the speed" in names) == is_asked


def test_what_is_done_already_says_to_go_on() -> None:
    found = kept(study({"bucket_load": "250 kg"}, drive__speed="1 km/h"))
    assert found["the bucket carried low"] == "the bucket is carried low already: keep it there"
    assert found["half the speed"].endswith("already: no faster")


def test_a_scheduled_lift_is_left_out_where_the_bucket_stays_low() -> None:
    plan = study(loader__height=[["0 m", "carry"], ["5 m", "full"]])
    assert cases(plan)["the bucket carried low"].scenario.loader is None


def test_without_a_loader_there_is_nothing_to_lower() -> None:
    found = kept(study(machine=lacking("bramble", "loader")))
    assert found["the bucket carried low"] == "no loader is fitted"


def test_up_and_down_is_the_same_bank_as_a_grade() -> None:
    up, down = up_and_down(study(HIGH))
    own = DEMO.scenario.ground.slope
    assert (up.scenario.ground.slope, up.scenario.ground.grade) == (0.0, pytest.approx(own))
    assert down.scenario.ground.grade == pytest.approx(-own)


@pytest.mark.parametrize(
    "changed",
    [
        {"ground__grade": radians(5.0)},
        {"course__path": "turn uphill", "course__radius": 5.0, "course__after": 4.0},
        {"ground__slope": radians(50.0)},
    ],
)
def test_where_it_has_no_meaning_it_is_left_alone(changed) -> None:
    assert up_and_down(study(HIGH, **changed)) is None
