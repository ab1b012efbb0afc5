"""The convergence of a small population: the same cases, a finer step is nearer, order told."""

from math import isnan, log

import numpy as np
import pytest

from sidehill.case import Case, Settings
from sidehill.crosscheck.convergence import KNOBS, Convergence, Knob, converge, levels_of
from sidehill.crosscheck.convergence_words import convergence_words
from sidehill.crosscheck.page import page
from sidehill.crosscheck.population import population
from sidehill.flat import flatten


@pytest.fixture(scope="module")
def found() -> Convergence:
    return converge(population(6))


def test_a_population_repeats_and_differs_by_seed() -> None:
    keys = [[case.key() for case in population(5, seed)] for seed in (1, 1, 2)]
    assert keys[0] == keys[1] and not set(keys[0]) & set(keys[2])


def test_every_knob_changes_what_a_run_has_and_its_usual_size_nothing() -> None:
    case = population(1)[0]
    for knob in KNOBS:
        arrays = [flatten(knob.to(size)(case)).case.tobytes() for size in knob.sizes]
        assert len(set(arrays)) == len(knob.sizes)
        usual = knob.to(knob.usual)(case)
        own = case.with_scenario({"run.tyre": usual.scenario.run.tyre})
        assert flatten(usual).case.tobytes() == flatten(own).case.tobytes()
    finer = Case(case.machine, case.scenario, case.outfit, Settings(fineness=3))
    rays = [float(flatten(each).case["rays"][0]) for each in (case, finer)]
    assert rays[1] - 1.0 == 3.0 * (rays[0] - 1.0)


def test_made_peaks_give_their_errors_and_their_order() -> None:
    """Errors of second order in the step, laid by hand; one run without a peak, one fact apart."""
    steps, truth = (4.0, 2.0, 1.0, 0.125), np.array([5.0, 6.0, np.nan, 7.0])
    knob = Knob("step", "ms", steps, 1.0, lambda _: lambda case: case)
    facts = ("planted", "across", True)
    told = [(truth + 0.01 * step**2, [facts] * 4) for step in steps[:-1]]
    told[0][1][2] = ("lifted", "across", True)
    levels = levels_of(knob, [*told, (truth, [facts] * 4)])
    assert [level.median for level in levels] == pytest.approx([0.16, 0.04, 0.01])
    assert [level.order for level in levels] == pytest.approx([log(4) / log(2)] * 2 + [None])
    assert [level.facts for level in levels] == [1, 0, 0]
    assert [level.is_usual for level in levels] == [False, False, True]
    assert levels[0].near == 0.0 and levels[0].worst == pytest.approx(0.16)


def test_a_small_population_is_told(found: Convergence) -> None:
    steps = [level for level in found.levels if level.knob == "step of the clock"]
    assert steps[-1].median <= steps[0].median
    assert sum(level.is_usual for level in found.levels) == len(KNOBS)
    assert not any(isnan(level.median) for level in found.levels)
    text = page("Convergence", convergence=convergence_words(found)).decode()
    assert "6 random cases (seed 11)" in text and "came to no peak" in text
    for level in found.levels:
        assert level.size in text
