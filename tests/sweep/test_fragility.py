"""Shares of draws at every value, and limits of draws as quantiles: counted by hand."""

import json
from math import isnan

import numpy as np
import pandas as pd
import pytest
from scipy.stats import binom

from sidehill.study.plan import Find
from sidehill.sweep.fragility import fragility, scanned, shares_of_facts
from sidehill.sweep.quantiles import BELOW, BEYOND, LEVEL, limit_quantiles, places

FIND = Find(until=("lifted", "overturned"), low="2 deg", high="12 deg", scan="2 deg")
GOOD, UP = ("planted", "across", True), ("lifted", "across", True)
OVER, STUCK = ("overturned", "over", False), ("planted", "stuck", False)
CANNOT = ("planted", "not_started", False)


def row(*bands: tuple[float, float, tuple[object, ...]], **more: object) -> dict[str, object]:
    return {
        "problem": None,
        "replicate": 0,
        "tried_from_deg": 2.0,
        "tried_to_deg": 12.0,
        "strip_bands": json.dumps([[low, high, *facts] for low, high, facts in bands]),
        "strip_differs_at": None,
    } | more


TABLE = pd.DataFrame(
    [
        row((2.0, 7.0, GOOD), (7.5, 12.0, UP)),
        row((2.0, 4.0, GOOD), (4.5, 8.0, UP), (8.5, 10.0, OVER), (10.5, 12.0, CANNOT)),
        row((2.0, 5.0, GOOD), (5.5, 12.0, STUCK)),
        row((2.0, 12.0, GOOD), problem="its process died"),
    ]
)


def at(table: pd.DataFrame, slope: float, event: str) -> tuple[int, int, int]:
    [found] = table[(table["slope_deg"] == slope) & (table["event"] == event)].to_dict("records")
    assert found["draws"] == 4
    counts = found["happened"], found["not_started"], found["unproved"]
    assert (found["least"], found["most"]) == (counts[0] / 4, sum(counts) / 4)
    assert found["low"] <= found["least"] and found["most"] <= found["high"]
    return counts


def test_counts_at_every_value_by_hand() -> None:
    found = fragility(TABLE, FIND)
    assert scanned(TABLE, FIND) == [2.0, 4.0, 6.0, 8.0, 10.0, 12.0]
    # the row that went wrong is not known anywhere: bad for the upper end, at 2 deg already
    assert at(found, 2.0, "lifted") == (0, 0, 1)
    # one lifted; what is stuck proves nothing
    assert at(found, 6.0, "lifted") == (1, 0, 2)
    assert at(found, 8.0, "overturned") == (0, 0, 2)
    assert at(found, 10.0, "overturned") == (1, 0, 2)
    # what cannot stand there is no hole: it is counted as what it is
    assert at(found, 12.0, "lifted") == (1, 1, 2)
    assert at(found, 12.0, "not_started") == (1, 0, 1)
    assert at(found, 12.0, "not_across") == (2, 0, 1)


def test_between_two_neighbours_the_worse_counts() -> None:
    table = pd.DataFrame([row((2.0, 3.5, GOOD), (4.5, 12.0, UP))])
    found = fragility(table, FIND, ("lifted",))
    assert found[found["slope_deg"] == 4.0]["happened"].tolist() == [1]
    doubted = pd.DataFrame([row((2.0, 4.0, GOOD), (4.5, 12.0, UP), strip_differs_at="[4.0]")])
    found = fragility(doubted, FIND, ("lifted",))
    assert found[found["slope_deg"] == 4.0]["unproved"].tolist() == [1]
    assert found[found["slope_deg"] == 2.0]["unproved"].tolist() == [0]


def test_facts_add_up_to_one() -> None:
    found = shares_of_facts(TABLE, FIND)
    assert np.allclose(found.drop(columns="slope_deg").sum(axis=1), 1.0)
    last = found.iloc[-1]
    assert (last["lifted"], last["planted"], last["not_started"]) == (0.25, 0.25, 0.25)
    assert last["not computed"] == 0.25


def limits(*values: float | None, tried_to: float = 30.0) -> pd.DataFrame:
    """Rows with a limit each; None: not good at the lowest value; NaN: unknown; 30: open."""
    rows = []
    for value in values:
        unknown = value is not None and isnan(value)
        known: dict[str, object] = {"problem": "went wrong" if unknown else None}
        known |= {"tried_from_deg": 1.0, "tried_to_deg": tried_to}
        for event in FIND.until:
            known |= {
                f"{event}_good_up_to_deg": None if unknown else value,
                f"{event}_first_bad_deg": None if value == tried_to else (value or 1.0),
                f"{event}_unknown_from_deg": None,
                f"{event}_good_again": "[]",
            }
        rows.append(known)
    return pd.DataFrame(rows)


def test_what_is_not_known_or_never_good_is_below_all_of_it() -> None:
    found = limit_quantiles(limits(10.0, 20.0, None, float("nan"), 30.0), FIND, (0.2, 0.6, 1.0))
    first, middle, last = found[found["event"] == "lifted"].to_dict("records")
    assert isnan(first["quantile_deg"]) and first["note"] == BELOW
    assert middle["quantile_deg"] == 10.0
    assert (last["quantile_deg"], last["note"]) == (30.0, BEYOND)
    assert (first["draws"], first["unknown"], first["none_good"]) == (5, 1, 1)
    table = limits(10.0, 20.0)
    table["lifted_unknown_from_deg"] = [11.0, None]
    assert set(limit_quantiles(table, FIND, (0.5,))["unproved"]) == {0, 1}


@pytest.mark.parametrize("share", [0.05, 0.5, 0.95])
@pytest.mark.parametrize("n", [20, 200])
def test_the_interval_of_a_quantile_covers_it(n: int, share: float) -> None:
    """P(k-th of n is at or below the quantile) is binomial, whatever the distribution."""
    quantile, low, high = places(n, share)
    assert 1 <= quantile <= n and low <= quantile <= high
    covered = binom.cdf(high - 1, n, share) - binom.cdf(low - 1, n, share)
    assert covered >= LEVEL
    draws = np.sort(np.random.default_rng(1).random((4000, n)), axis=1)
    ends = np.column_stack([np.full(4000, -1.0), draws, np.full(4000, 2.0)])
    inside = (ends[:, low] <= share) & (share <= ends[:, high])
    assert inside.mean() >= LEVEL - 0.012  # three standard errors of 4,000
