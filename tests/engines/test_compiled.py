"""The compiled engine against the others, on random drives with the same kernels."""

from math import radians

import numpy as np
import pytest
from population import random_cases, turned

from sidehill.case import Case
from sidehill.engines import here
from sidehill.kernels.layout import RESTED
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.outcome import Outcome
from sidehill.scenario.file import load_scenario

PEAK_ROLL = 0.01  # [deg] two engines, same kernels (design)
TOLD = 1e-3  # [deg] what is further apart is printed, with what the yardstick moves
SEEDS = (1, 2, 3, 11, 77, 123)
OTHERS = [name for name in here() if name != "compiled"]
YARDSTICK = 1e-4  # [deg] by which a slope is turned to see how much a case can tell


def varied(cases: list[Case]) -> list[Case]:
    """Every fourth case in a turn uphill, every fourth downhill, every fourth raising its
    bucket."""
    return [_in_its_turn(case, k % 4) for k, case in enumerate(cases)]


def _in_its_turn(case: Case, kind: int) -> Case:
    if kind == 0:
        return case
    if kind == 3:
        return case.with_scenario({"loader.height": (("1 m", "carry"), ("6 m", "full"))})
    path = {1: "turn uphill", 2: "turn downhill"}[kind]
    turn = {"course.path": path, "course.radius": 6.0, "course.after": 4.0}
    return case.with_scenario(turn)


def outcome(case: Case, engine: str) -> Outcome:
    return run(case, engine).outcome


def check_agreement(cases: list[Case], reference: str) -> None:
    """No fact differs; a peak does only where a slope turned by a hair moves it as much."""
    worst, touchy = 0.0, []
    for case in cases:
        ours, theirs = outcome(case, "compiled"), outcome(case, reference)
        assert ours.facts == theirs.facts, case.key()
        if theirs.progress == "not_started":
            continue
        apart = abs(ours.peak_roll_deg - theirs.peak_roll_deg)
        worst = max(worst, apart)
        if apart >= TOLD:
            moved = outcome(turned(case, YARDSTICK), reference).peak_roll_deg
            touchy.append((case.key(), apart, abs(moved - theirs.peak_roll_deg)))
    print(f"{len(cases)} cases: compiled and {reference} at most {worst:.1e} deg apart")
    for key, apart, moved in touchy:
        print(f"  {key}: {apart:.4f} deg apart; turned by {YARDSTICK} deg it moves {moved:.4f}")
        assert apart < PEAK_ROLL or apart < moved, key


def test_twenty_random_cases() -> None:
    check_agreement(varied(random_cases(20)), "mujoco")


def test_a_fall_ends_in_the_same_place() -> None:
    """Contacts in a fall are kernels too."""
    steep = {"ground.slope": radians(14.0)}
    outfit = Outfit(bucket_load="400 kg", bucket_height="full")
    case = Case(load_machine("bramble"), load_scenario("bank-stone").with_values(steep), outfit)
    ours, theirs = (run(case, name, to_rest=True).state[0] for name in ("compiled", "mujoco"))
    assert theirs["finish"] == RESTED
    assert ours["finish"] == RESTED
    assert abs(ours["turned_over"] - theirs["turned_over"]) < radians(PEAK_ROLL)
    assert np.abs(ours["position"] - theirs["position"]).max() < 1e-3


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("reference", OTHERS)
def test_four_hundred_random_cases(reference: str, seed: int) -> None:
    check_agreement(varied(random_cases(67, seed)), reference)
