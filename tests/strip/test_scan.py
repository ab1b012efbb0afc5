"""Which runs a strip takes, on machines that are made up: their facts hang on the value alone."""

from collections.abc import Callable
from itertools import pairwise
from math import radians
from random import Random
from typing import Any

import pytest
from posed_strip import (
    GOOD,
    HOPPED,
    LIFTED,
    NO_START,
    OVER,
    posed_outcome,
    posed_strip,
)

from sidehill.case import Case
from sidehill.files.errors import EngineError, InputError
from sidehill.machine.file import load_machine
from sidehill.run.facts import Facts
from sidehill.scenario.file import load_scenario
from sidehill.strip import scan as scanned
from sidehill.strip.meeting import meeting
from sidehill.strip.quantity import VARIED
from sidehill.strip.scan import COARSE_STEP, Scan, with_step
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip, take_strip

FINE = 1e-3
Told = Callable[[float, float, str], Facts]  # of a value in the quantity's unit, a step, an engine


@pytest.fixture
def case() -> Case:
    return Case(load_machine("sorrel"), load_scenario("bank-stone"))


@pytest.fixture
def pretend(monkeypatch: pytest.MonkeyPatch) -> Callable[[Told], list[tuple[float, float, str]]]:
    """Have every run tell what a rule says; the runs that were asked for, as they come."""

    def begin(told: Told) -> list[tuple[float, float, str]]:
        asked = []

        def one(case: Case, value: float, engine: str) -> Spot:
            step, shown = case.scenario.run.step, round(VARIED["slope"].from_si(value), 9)
            assert case.scenario.ground.slope == value
            asked.append((shown, step, engine))
            return Spot(value, step, engine, posed_outcome(told(shown, step, engine)))

        monkeypatch.setattr(scanned, "run_spot", one)
        return asked

    return begin


def strip(case: Case, **how: Any) -> Strip:
    wide = {"low": 2.0, "high": 12.0, "scan": 1.0, "tolerance": 0.125} | how
    slopes = {name: radians(wide.pop(name)) for name in ("low", "high", "scan", "tolerance")}
    return take_strip(case, **slopes, **wide)


def values(found: Strip) -> list[float]:
    return [round(VARIED["slope"].from_si(spot.value), 9) for spot in found.spots]


def test_a_strip_without_a_change_is_its_grid_scanned_coarsely(case: Case, pretend: Any) -> None:
    asked = pretend(lambda *_: GOOD)
    found = strip(case, engine="compiled")
    assert values(found) == [float(k) for k in range(2, 13)]
    assert len(asked) == found.runs == 11  # each value once
    assert {step for _, step, _ in asked} == {2e-3}
    assert found.reference is None and found.doubts == () and len(found.bands()) == 1


def test_a_range_that_its_scan_does_not_divide_ends_on_the_grid(case: Case, pretend: Any) -> None:
    pretend(lambda *_: GOOD)
    assert values(strip(case, engine="compiled", high=11.9)) == [float(k) for k in range(2, 12)]


def test_every_change_is_narrowed_and_told_at_the_fine_step(case: Case, pretend: Any) -> None:
    """5.3 deg: neighbours within the tolerance on its two sides, both run at 1 ms."""
    asked = pretend(lambda value, *_: GOOD if value < 5.3 else LIFTED)
    found = strip(case, engine="compiled", tolerance=0.13)
    ((last, first),) = [(a, b) for a, b in pairwise(found.spots) if a.facts != b.facts]
    low, high = (VARIED["slope"].from_si(spot.value) for spot in (last, first))
    assert low < 5.3 <= high and high - low <= 0.13
    assert last.step == first.step == FINE
    assert sum(step == FINE for _, step, _ in asked) == 2
    assert len(asked) == found.runs == 11 + 3 + 2  # the grid, three halvings, both sides
    assert found.limit("lifted").good_up_to == last.value
    assert found.at(last.value) is last and found.at(last.value + 1e-6) is first
    assert found.at(found.spots[-1].value + 1.0) is found.spots[-1]


def test_what_the_fine_step_moves_is_followed(case: Case, pretend: Any) -> None:
    """The coarse step sees the change at 5.3 deg, the fine one at 6.4: that has the last word."""
    pretend(lambda value, step, _: GOOD if value < (5.3 if step > FINE else 6.4) else LIFTED)
    found = strip(case, engine="compiled")
    good = VARIED["slope"].from_si(found.limit("lifted").good_up_to or 0.0)
    assert 6.4 - 0.125 <= good < 6.4
    for a, b in pairwise(found.spots):
        assert a.facts == b.facts or a.step == b.step == FINE


def test_above_the_first_that_cannot_start_every_fourth_is_run(case: Case, pretend: Any) -> None:
    pretend(lambda value, *_: GOOD if value < 4.5 else NO_START)
    found = strip(case, engine="compiled", high=20.0)
    whole = [value for value in values(found) if value == round(value)]
    assert whole == [2.0, 3.0, 4.0, 5.0, 6.0, 10.0, 14.0, 18.0, 20.0]


def test_both_sides_of_a_change_are_run_in_the_reference_engine(case: Case, pretend: Any) -> None:
    def told(value: float, _: float, engine: str) -> Facts:
        return GOOD if value < (7.3 if engine == "compiled" else 7.2) else OVER

    asked = pretend(told)
    found = strip(case)
    elsewhere = [(value, step) for value, step, engine in asked if engine != "compiled"]
    assert found.reference not in (None, "compiled") and found.engine == "compiled"
    assert len(elsewhere) == 2 and {step for _, step in elsewhere} == {FINE}
    assert found.runs == len(asked)
    assert [spot.again for spot in found.spots].count(None) == len(found.spots) - 2
    assert [value for value, _ in elsewhere] == [7.25, 7.3125] or len(found.doubts) == 1
    assert found.limit("overturned").good_up_to is not None
    for quiet in (strip(case, check=False), strip(case, engine="compiled")):
        assert quiet.reference is None and quiet.doubts == ()


def test_a_change_that_decides_nothing_that_is_asked_is_left_wide(case: Case, pretend: Any) -> None:
    asked = pretend(lambda value, *_: GOOD if value < 4.3 else HOPPED if value < 8.3 else OVER)
    found = strip(case, engine="compiled", until=("overturned",))
    assert not [value for value, _, _ in asked if 4.0 < value < 5.0]
    assert [value for value, _, _ in asked if 8.0 < value < 9.0]
    assert found.limit("overturned").good_up_to is not None


def test_a_strip_that_changes_everywhere_ends(
    case: Case, pretend: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(scanned, "MOST_SPOTS", 60)
    pretend(lambda value, *_: GOOD if Random(value).random() < 0.5 else LIFTED)
    found = strip(case, engine="compiled", high=30.0, tolerance=1e-6)
    assert 60 <= len(found.spots) <= 120  # no more than twice, as each is halved once more


def test_every_run_is_watched_and_may_be_stopped_before(case: Case, pretend: Any) -> None:
    pretend(lambda *_: GOOD)
    seen: list[Spot] = []
    calls: list[int] = []
    found = strip(case, engine="compiled", watch=seen.append, heed=lambda: calls.append(1))
    assert sorted(spot.value for spot in seen) == [spot.value for spot in found.spots]
    assert len(calls) == found.runs

    def stop() -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        strip(case, engine="compiled", heed=stop)


def test_an_engine_that_fails_is_replaced_by_the_reference_only_if_none_was_asked_for(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    def one(case: Case, value: float, engine: str) -> Spot:
        if engine == "compiled":
            raise EngineError("does not load")
        return Spot(value, case.scenario.run.step, engine, posed_outcome(GOOD))

    monkeypatch.setattr(scanned, "run_spot", one)
    found = strip(case)
    assert found.fell_back == "does not load" and found.engine != "compiled"
    assert found.reference is None
    with pytest.raises(EngineError):
        strip(case, engine="compiled")


def test_what_is_left_out_is_the_quantity_s_own(case: Case, pretend: Any) -> None:
    pretend(lambda *_: GOOD)
    found = take_strip(case, engine="compiled")
    assert values(found)[:3] == [1.0, 1.25, 1.5] and values(found)[-1] == 35.0
    assert (found.scan, found.tolerance) == (radians(0.25), radians(0.02))
    with pytest.raises(InputError):
        strip(case, low=12.0)
    with pytest.raises(InputError):
        strip(case, tolerance=1.01)
    assert len(strip(case, engine="compiled", tolerance=1.0).spots) == 11


def test_what_no_file_may_hold_is_refused_before_the_first_run(case: Case, pretend: Any) -> None:
    asked = pretend(lambda *_: GOOD)
    for ends in ({"high": 60.5}, {"high": 89.0}, {"low": -1.0}):
        with pytest.raises(InputError):
            strip(case, engine="compiled", **ends)
    assert asked == []


def test_a_feature_is_raised_up_to_the_steepest_that_a_file_may_hold(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    heights = []

    def one(case: Case, value: float, engine: str) -> Spot:
        heights.append(case.scenario.feature[0].height)
        return Spot(value, case.scenario.run.step, engine, posed_outcome(GOOD))

    monkeypatch.setattr(scanned, "run_spot", one)
    short = case.with_scenario({"feature.1.length": 0.2, "feature.1.height": 0.05})
    take_strip(short, "bump", engine="compiled")
    top = max(heights)
    assert (min(heights), top) == (0.01, pytest.approx(0.20))  # no higher than it is long


def test_ranges_and_steps_are_those_that_are_promised() -> None:
    """Slope 1 to 35 deg by 0.25, to 0.02; speed 0.5 to 15 km/h by 0.25, to 0.02; height of a
    feature 10 to 300 mm by 10, to 1."""
    shown = {
        name: [f"{one.from_si(v) * unit:.4g}" for v in (one.low, one.high, one.scan, one.tolerance)]
        for (name, one), unit in zip(VARIED.items(), (1.0, 3.6, 1000.0), strict=True)
    }
    assert shown == {
        "slope": ["1", "35", "0.25", "0.02"],
        "speed": ["0.5", "15", "0.25", "0.02"],
        "bump": ["10", "300", "10", "1"],
    }


def test_a_value_is_that_of_the_case_and_of_the_feature_that_is_named(case: Case) -> None:
    stone = case.scenario.feature[0].model_dump() | {"at": 6.0, "height": 0.04}
    two = case.with_scenario({"feature": [case.scenario.feature[0].model_dump(), stone]})
    bump, first = VARIED["bump"], case.scenario.feature[0].height
    assert (bump.value_in(two, 1), bump.value_in(two, 2)) == (first, 0.04)
    assert bump.value_in(two) == first  # the first one, where none is named
    assert bump.case_at(two, 0.05).scenario.feature[0].height == 0.05
    assert bump.case_at(two, 0.05, 2).scenario.feature[1].height == 0.05
    assert VARIED["slope"].value_in(case) == case.scenario.ground.slope
    assert VARIED["slope"].to_si(180.0) == pytest.approx(3.14159265)
    assert VARIED["slope"].show(radians(10.0), us=True) == "10.0 deg (18 %)"
    assert VARIED["speed"].show(1.0, us=True).startswith("2.2 mph")


def test_another_step_keeps_rows_whole_and_the_same_step_changes_nothing(case: Case) -> None:
    assert with_step(case, case.scenario.run.step) is case
    coarse = with_step(case, COARSE_STEP).scenario.run
    rows = 1.0 / (coarse.step * coarse.rate)
    assert coarse.step == COARSE_STEP and rows == pytest.approx(round(rows))
    assert 0.5 < coarse.rate / case.scenario.run.rate <= 2.0
    often = with_step(case.with_scenario({"run.rate": 500.0}), 4e-3).scenario.run
    assert often.rate == pytest.approx(250.0)  # never less than a step a row
    slack = case.with_scenario({"run.step": 4e-3, "run.rate": 50.0})
    assert Scan(slack, VARIED["slope"], 1, "compiled").coarse == 4e-3


def test_strips_meet_in_the_widest_range_in_which_all_are_as_wanted() -> None:
    a = posed_strip((1.0, GOOD), (4.0, GOOD), (5.0, LIFTED), (6.0, GOOD), (12.0, GOOD))
    b = posed_strip((2.0, LIFTED), (3.0, LIFTED), (7.0, GOOD), (9.0, GOOD))

    def wanted(facts: Facts) -> bool:
        return facts == GOOD

    def shown(*wishes: Any) -> list[float] | None:
        found = meeting(wishes)
        return found and [round(VARIED["slope"].from_si(value), 6) for value in found]

    assert shown((a, wanted)) == [6.0, 12.0]  # wider than 1 to 4
    assert shown((a, wanted), (b, wanted)) == [7.0, 9.0]
    assert shown((a, wanted), (b, lambda facts: facts == LIFTED)) == [2.0, 3.0]
    assert meeting([(b, lambda facts: facts == OVER)]) is None
    assert meeting([(a, lambda facts: facts == LIFTED)]) is None  # one value is no range
