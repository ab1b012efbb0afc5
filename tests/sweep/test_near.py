"""What is marked as close: every run at which another engine could say otherwise."""

from collections import Counter
from dataclasses import replace
from math import radians

import numpy as np
import pytest
from population import random_cases

from sidehill.case import Case
from sidehill.kernels.layout import BROKEN
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import Track, run
from sidehill.run.facts import Facts
from sidehill.run.outcome import Outcome, read
from sidehill.scenario.file import load_scenario
from sidehill.sweep.near import near
from sidehill.sweep.run_row import run_row

NARROW = 2e-4  # [deg] between the runs on either side of a change: engines differ by more


def ran(case: Case, engine: str = "compiled") -> tuple[Track, Outcome]:
    track = run(case, engine)
    return track, read(track.state, track.flat.case)


def facts(case: Case, engine: str = "compiled") -> Facts:
    _, outcome = ran(case, engine)
    return outcome.stability, outcome.progress, outcome.met


def at(case: Case, degrees: float) -> Case:
    return case.with_slope(radians(degrees))


def changes(case: Case, slopes: "np.ndarray[tuple[int], np.dtype[np.float64]]") -> list[float]:
    """Slopes [deg] on both sides of every change of the facts between those."""
    found: list[float] = []
    told = [facts(at(case, slope)) for slope in slopes]
    for low, high, before, after in zip(slopes[:-1], slopes[1:], told[:-1], told[1:], strict=True):
        if before == after:
            continue
        while high - low > NARROW:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if facts(at(case, middle)) == before else (low, middle)
        found += [float(low), float(high)]
    return found


def unmarked(case: Case, slopes: list[float]) -> list[tuple[float, Facts]]:
    """Slopes whose row does not say that it was run again."""
    rows = [(slope, run_row(at(case, slope), "compiled", "mujoco")) for slope in slopes]
    return [
        (slope, (row["stability"], row["progress"], row["met"]))
        for slope, row in rows
        if "near" not in row
    ]


def edges(count: int, seed: int) -> tuple[int, list[tuple[float, Facts]]]:
    """How many slopes at a change of random cases, and those that are not marked."""
    tried, missed = 0, []
    for k, case in enumerate(random_cases(count, seed)):
        slopes = changes(case, np.arange(1.0, 30.0, 3.0) + 0.1 * k)
        tried += len(slopes)
        missed += unmarked(case, slopes)
    return tried, missed


def test_both_sides_of_every_change_are_marked() -> None:
    tried, missed = edges(2, 21)
    assert tried >= 8
    assert not missed


@pytest.mark.slow
def test_both_sides_of_every_change_are_marked_on_a_population() -> None:
    tried, missed = edges(40, 22)
    assert tried > 200
    assert not missed, missed


@pytest.mark.slow
def test_where_two_engines_differ_it_is_marked_and_most_else_is_not() -> None:
    marked, seen = 0, Counter[bool]()
    for case in random_cases(600, 23):
        row = run_row(case, "compiled", "mujoco")
        marked += "near" in row
        found = (row["stability"], row["progress"], row["met"])
        differs = facts(case, "mujoco") != found
        seen[differs] += 1
        assert not differs or "near" in row, (case.key(), found)
    assert marked < 200, seen  # a third, at most, is run again


def test_a_plain_run_is_not_run_again() -> None:
    case = Case(load_machine("bramble"), load_scenario("bank-plain"), Outfit())
    assert "near" not in run_row(at(case, 5.0), "compiled", "mujoco")


STONE = load_scenario("bank-stone", ("ground.slope=4 deg",))


@pytest.fixture(scope="module")
def lifted() -> tuple[Track, Outcome]:
    track, outcome = ran(Case(load_machine("bramble"), STONE, Outfit()))
    assert outcome.stability in ("hopped", "lifted")
    return track, outcome


@pytest.mark.parametrize(
    ("stability", "longest", "daylight", "is_close"),
    [
        ("hopped", 0.051, 0.001, "short spell"),
        ("hopped", 0.30, 0.001, None),
        ("hopped", 0.499, 0.001, "long spell"),
        ("lifted", 0.502, 0.001, "long spell"),
        ("lifted", 0.510, 0.001, None),
        ("hopped", 0.30, 0.0495, "long spell"),
        ("lifted", 0.30, 0.0503, "long spell"),
        ("lifted", 0.30, 0.060, None),
        ("lifted", 0.502, 0.060, None),  # by its daylight it is lifted anyway
    ],
)
def test_spells_and_daylight_about_their_thresholds(
    lifted: tuple[Track, Outcome], stability: str, longest: float, daylight: float,
    is_close: str | None,
) -> None:  # fmt: skip
    """The thresholds: 0.05 s, 0.5 s and 50 mm, as README and design have them."""
    track, outcome = lifted
    posed = replace(outcome, stability=stability, longest_spell_s=longest, most_daylight_m=daylight)
    marks = [mark for mark in near(track, posed) if mark.endswith("spell")]
    assert marks == ([is_close] if is_close else [])


@pytest.mark.parametrize(
    ("off", "slid", "is_close"), [(0.497, 0.0, True), (0.45, 0.0, False), (0.9, 0.0, True)]
)
def test_a_slide_about_half_a_metre(
    lifted: tuple[Track, Outcome], off: float, slid: float, is_close: bool
) -> None:
    track, outcome = lifted
    state = track.state.copy()
    state["furthest_off"], state["slid"] = off, slid
    assert ("slide" in near(replace(track, state=state), outcome)) == is_close


def test_numbers_that_went_bad_are_run_again(lifted: tuple[Track, Outcome]) -> None:
    track, _ = lifted
    state = track.state.copy()
    state["finish"] = BROKEN
    assert near(replace(track, state=state), read(state, track.flat.case)) == ("numbers",)
