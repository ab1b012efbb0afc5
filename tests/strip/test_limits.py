"""Limits read off made-up strips, against their definition written out again."""

from dataclasses import replace
from itertools import product

import pytest

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.run import run
from sidehill.run.outcome import Outcome
from sidehill.scenario.file import load_scenario
from sidehill.strip.limits import ALL_EVENTS, Limit, limit_of
from sidehill.strip.spot import Spot

GOOD, HOPS, HANGS = (
    ("planted", "across", True),
    ("hopped", "across", True),
    ("on_stop", "leaning", True),
)
STUCK, OVER = ("planted", "stuck", False), ("overturned", "over", False)
STUCK_HANGING = ("on_stop", "stuck", True)
NO_START, FAILED = ("on_stop", "not_started", False), (None, None, None)
ALL_FACTS = (GOOD, HOPS, HANGS, STUCK, STUCK_HANGING, OVER, NO_START, FAILED)


@pytest.fixture(scope="module")
def outcome() -> Outcome:
    return run(Case(load_machine("sorrel"), load_scenario("bank-plain")), "compiled").outcome


def spots(outcome: Outcome, *facts: tuple) -> list[Spot]:
    return [
        Spot(float(k), 1e-3, "compiled", replace(outcome, stability=s, progress=p, met=m))
        for k, (s, p, m) in enumerate(facts, start=1)
    ]


ORDER = ["planted", "hopped", "lifted", "on_stop", "overturned"]


def proves(event: str, facts: tuple) -> bool:
    """A run is short of an event only if it met everything, got to an end, and did not have it."""
    s, p, m = facts
    if s is None or m is not True or p not in ("across", "halted", "leaning"):
        return False
    return p != "leaning" if event == "not_across" else ORDER.index(s) < ORDER.index(event)


def has(event: str, facts: tuple) -> bool:
    s, p, _ = facts
    if s is None:
        return False
    if event == "not_across":
        return p not in ("across", "halted")
    return ORDER.index(s) >= ORDER.index(event)


@pytest.mark.parametrize("event", ALL_EVENTS)
def test_every_strip_of_four_is_read_as_it_is_defined(outcome: Outcome, event: str) -> None:
    for facts in product(ALL_FACTS, repeat=4):
        limit = limit_of(spots(outcome, *facts), event)
        good = 0
        while good < 4 and proves(event, facts[good]):
            good += 1
        assert limit.good_up_to == (good or None)
        bad = next((k for k, f in enumerate(facts, start=1) if has(event, f)), None)
        assert limit.first_bad == bad
        unknown = good + 1 if good < 4 and not has(event, facts[good]) else None
        assert limit.unknown_from == unknown
        inside = {k for low, high in limit.good_again for k in range(int(low), int(high) + 1)}
        assert inside == {k for k in range(good + 1, 5) if proves(event, facts[k - 1])}
        assert limit.is_open == (good == 4) and limit.alternates == bool(inside)
        assert limit.runs_backwards == (good == 0 and bool(inside)) and limit.tried_to == 4.0


def test_hanging_on_the_stop_with_a_spinning_wheel_is_not_good(outcome: Outcome) -> None:
    limit = limit_of(spots(outcome, GOOD, STUCK_HANGING, GOOD), "overturned")
    assert limit == Limit("overturned", 1.0, None, 2.0, ((3.0, 3.0),), 3.0)


def test_stuck_before_the_stone_proves_nothing_about_the_stone(outcome: Outcome) -> None:
    limit = limit_of(spots(outcome, STUCK, STUCK), "overturned")
    assert (limit.good_up_to, limit.first_bad, limit.unknown_from) == (None, None, 1.0)


def test_a_strip_that_runs_backwards_has_no_limit(outcome: Outcome) -> None:
    limit = limit_of(spots(outcome, HANGS, HANGS, GOOD), "on_stop")
    assert limit.runs_backwards and limit.good_up_to is None


def test_the_reference_engine_can_only_take_away(outcome: Outcome) -> None:
    a, b = spots(outcome, GOOD, GOOD)
    doubted = replace(b, again=OVER)
    limit = limit_of([a, doubted], "overturned")
    assert (limit.good_up_to, limit.first_bad) == (1.0, 2.0)
    assert not doubted.is_good and not doubted.agrees
