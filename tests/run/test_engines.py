"""Engines that share the kernels must agree: on random cases, and on mirrored ones."""

from math import isnan

import pytest
from population import random_cases, turned

from sidehill.case import Case
from sidehill.engines import REFERENCE, here
from sidehill.run import run
from sidehill.run.outcome import Outcome

PEAK_ROLL = 0.01  # [deg] two engines, same kernels (design)
OTHERS = [name for name in here() if name != REFERENCE]
YARDSTICK = 1e-4  # [deg] by which a slope is turned to see how much any case can tell


def outcome(case: Case, engine: str) -> Outcome:
    return run(case, engine).outcome


def apart(a: Outcome, b: Outcome) -> float:
    """[deg] between two peak rolls; 0 where neither run came to one."""
    if isnan(a.peak_roll_deg) and isnan(b.peak_roll_deg):
        return 0.0
    return abs(a.peak_roll_deg - b.peak_roll_deg)


def check_agreement(engine: str, cases: list[Case]) -> None:
    worst = yardstick = 0.0
    for case in cases:
        own, reference = outcome(case, engine), outcome(case, REFERENCE)
        assert own.facts == reference.facts, case.key()
        worst = max(worst, apart(own, reference))
        moved = outcome(turned(case, YARDSTICK), REFERENCE)
        yardstick = max(yardstick, apart(reference, moved))
    print(
        f"{len(cases)} cases: {engine} and {REFERENCE} {worst:.2e} deg apart, "
        f"a slope turned by 1e-4 deg moves {yardstick:.2e} deg"
    )
    assert worst < PEAK_ROLL


@pytest.mark.parametrize("engine", OTHERS)
def test_an_engine_agrees_with_the_reference_on_random_cases(engine: str) -> None:
    check_agreement(engine, random_cases(8))


@pytest.mark.slow
@pytest.mark.parametrize("engine", OTHERS)
def test_an_engine_agrees_with_the_reference_on_two_hundred_random_cases(engine: str) -> None:
    check_agreement(engine, random_cases(200))


@pytest.mark.parametrize("engine", here())
def test_left_and_right_downhill_mirror_each_other(engine: str) -> None:
    right = next(c for c in random_cases(5, seed=3) if c.scenario.ground.slope > 0.05)
    tracks = []
    for side in ("right", "left"):
        case = right.with_scenario({"ground.downhill": side})
        tracks.append(run(case, engine))
    a, b = (track.written()["roll_slope"] for track in tracks)
    assert abs(a[0] - b[0]) < 1.75e-8  # 1e-6 deg, at the start
    peaks = [track.outcome.peak_roll_deg for track in tracks]
    assert peaks[0] == pytest.approx(peaks[1], abs=0.01)
