"""Probabilities: closed-form ends, coverage, and what is not known."""

from math import comb

import pytest

from sidehill.run.outcome import UNKNOWN, VERDICTS
from sidehill.sweep.probability import EVENTS, is_known, probability


def test_none_of_n_in_closed_form() -> None:
    """Clopper and Pearson 1934: 0 of n has the upper end 1 - (0.05 / 2)^(1 / n)."""
    for n in (10, 128, 512):
        found = probability(["crossed"] * n, "overturned")
        assert found.low == 0.0
        assert found.high == pytest.approx(1.0 - 0.025 ** (1.0 / n), rel=1e-9)


def test_all_of_n_in_closed_form() -> None:
    found = probability(["overturned"] * 40, "overturned")
    assert (found.high, found.low) == pytest.approx((1.0, 0.025 ** (1.0 / 40)), rel=1e-9)


@pytest.mark.parametrize("truth", [0.02, 0.1, 0.5, 0.93])
def test_it_covers_what_it_claims(truth: float) -> None:
    """Summed over every outcome of 30 independent draws: at least 95 %."""
    n, covered = 30, 0.0
    for k in range(n + 1):
        found = probability(["overturned"] * k + ["crossed"] * (n - k), "overturned")
        if found.low <= truth <= found.high:
            covered += comb(n, k) * truth**k * (1.0 - truth) ** (n - k)
    assert covered >= 0.95


def test_what_is_not_known_is_bad_for_the_upper_end_and_nothing_for_the_lower() -> None:
    known = ["overturned"] * 2 + ["crossed"] * 18
    unknown = [*UNKNOWN, None, float("nan"), "no such verdict"]
    found = probability([*known, *unknown], "overturned")
    assert (found.happened, found.unknown, found.draws) == (2, 5, 25)
    assert found.low == probability(["overturned"] * 2 + ["crossed"] * 23, "overturned").low
    assert found.high == probability(["overturned"] * 7 + ["crossed"] * 18, "overturned").high
    assert (found.least, found.most) == (2 / 25, 7 / 25)


def test_every_verdict_is_somewhere() -> None:
    assert set(EVENTS["not_crossed"]) | {"crossed", *UNKNOWN} == set(VERDICTS)
    assert set(EVENTS["overturned"]) < set(EVENTS["not_across"]) < set(EVENTS["not_crossed"])
    assert not any(is_known(name) for name in UNKNOWN)


def test_no_draws_are_no_answer() -> None:
    with pytest.raises(ValueError, match="0 draws"):
        probability([], "overturned")
