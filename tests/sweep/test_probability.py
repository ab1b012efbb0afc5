"""Probabilities: closed-form ends, coverage, and what is not known."""

from math import comb

import pytest

from sidehill.sweep.probability import TOLD, probability


def test_none_of_n_in_closed_form() -> None:
    """Clopper and Pearson 1934: 0 of n has the upper end 1 - (0.05 / 2)^(1 / n)."""
    for n in (10, 128, 512):
        found = probability([False] * n, "overturned")
        assert found.low == 0.0
        assert found.high == pytest.approx(1.0 - 0.025 ** (1.0 / n), rel=1e-9)


def test_all_of_n_in_closed_form() -> None:
    found = probability([True] * 40, "overturned")
    assert (found.high, found.low) == pytest.approx((1.0, 0.025 ** (1.0 / 40)), rel=1e-9)


@pytest.mark.parametrize("truth", [0.02, 0.1, 0.5, 0.93])
def test_it_covers_what_it_claims(truth: float) -> None:
    """Summed over every outcome of 30 independent draws: at least 95 %."""
    n, covered = 30, 0.0
    for k in range(n + 1):
        found = probability([True] * k + [False] * (n - k), "overturned")
        if found.low <= truth <= found.high:
            covered += comb(n, k) * truth**k * (1.0 - truth) ** (n - k)
    assert covered >= 0.95


def test_what_is_not_proved_is_bad_for_the_upper_end_and_nothing_for_the_lower() -> None:
    known = [True] * 2 + [False] * 18
    found = probability([*known, *[None] * 5], "overturned")
    assert (found.happened, found.unproved, found.draws) == (2, 5, 25)
    assert found.low == probability([True] * 2 + [False] * 23, "overturned").low
    assert found.high == probability([True] * 7 + [False] * 18, "overturned").high
    assert (found.least, found.most) == (2 / 25, 7 / 25)


def test_what_could_not_start_is_counted_as_what_it_is() -> None:
    found = probability([True, "not_started", "not_started", None, False], "lifted")
    assert (found.happened, found.not_started, found.unproved) == (1, 2, 1)
    assert found.most == 4 / 5


def test_replicates_give_the_interval_of_their_shares() -> None:
    """Student's interval of four means, by hand: 0.3, 0.4, 0.5, 0.4 of 20 draws each."""
    hits, which, seen = (6, 8, 10, 8), [], []
    for k, count in enumerate(hits):
        which += [k] * 20
        seen += [True] * count + [False] * (20 - count)
    found = probability(seen, "lifted", which)
    half = 3.182446 * 0.0816497 / 2.0  # t(0.975, 3), standard deviation, root of 4
    assert (found.low, found.high) == pytest.approx((0.4 - half, 0.4 + half), abs=1e-6)
    assert found.method == "4 replicates"


def test_what_no_replicate_saw_is_not_taken_for_certain() -> None:
    found = probability([False] * 40, "lifted", [0] * 20 + [1] * 20)
    assert found.high == probability([False] * 40, "lifted").high > 0.05
    assert found.method == "Clopper and Pearson"


def test_the_events_that_are_told_are_those_of_a_strip() -> None:
    for event in TOLD:
        assert probability([True], event).event == event


def test_no_draws_and_no_such_event_are_no_answer() -> None:
    with pytest.raises(ValueError, match="0 draws"):
        probability([], "overturned")
    with pytest.raises(ValueError, match="'rolled'"):
        probability([True], "rolled")
