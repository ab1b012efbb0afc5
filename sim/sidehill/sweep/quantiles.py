"""Limits under uncertain inputs: quantiles of the limit of every draw, with intervals."""

from collections.abc import Iterable, Sequence
from math import inf, isinf, nan

import numpy as np
import pandas as pd
from scipy.stats import binom

from sidehill.strip.limits import Limit
from sidehill.study.plan import Find
from sidehill.sweep.limits import answer_of, read_limit

LEVEL = 0.95
SHARES = (0.05, 0.25, 0.5, 0.75, 0.95)
BELOW, BEYOND = "below what was tried", "at or beyond what was tried"


def limit_quantiles(
    table: pd.DataFrame, find: Find, shares: Sequence[float] = SHARES
) -> pd.DataFrame:
    """Quantiles of `good_up_to` over the draws of a table, a row an event and share.

    A draw of which no limit is known, or that is not good at the lowest value, counts as below all
    that was tried: never as good. One that is good at all that was tried is at the end of it. The
    interval is that of order statistics, which holds whatever the distribution is (David and
    Nagaraja, Order Statistics, sec. 7.1; from memory), for independent draws; evenly spread ones
    vary less. Each quantile is the lower of the two draws that it lies between.

    Columns: event, share, quantile, low, high in the quantity's unit (NaN: see `note`), note,
        draws, unknown: draws of which nothing is known, none_good: that are not good at the lowest,
        unproved: whose limit is where nothing more was proved, as where it slid, not the event.
    """
    varied, unit = find.varied, find.varied.suffix
    rows = []
    for event in find.until:
        limits = [read_limit(row, event, varied) for row in table.to_dict("records")]
        kinds = [answer_of(limit) for limit in limits]
        order = sorted(_value(limit) for limit in limits)
        for share in shares:
            found = [_at(order, place) for place in places(len(order), share)]
            said = {
                name: nan if isinf(value) else value
                for name, value in zip(("quantile", "low", "high"), found, strict=True)
            }
            counts = {
                "draws": len(order),
                "unknown": kinds.count("unknown"),
                "none_good": kinds.count("none good") + kinds.count("backwards"),
                "unproved": sum(limit.unknown_from is not None for limit in limits if limit),
            }
            note = _note(found[0], [limit for limit in limits if limit is not None])
            rows.append({"event": event, "share": share, **said, "note": note, **counts})
    named = {name: f"{name}_{unit}" for name in ("quantile", "low", "high")}
    return pd.DataFrame(rows).rename(columns=named)


def places(n: int, share: float) -> tuple[int, int, int]:
    """Places, from 1 in rising order, of a quantile and of the ends of its interval; 0 and n + 1:
    there is none that far out."""
    tail = (1.0 - LEVEL) / 2.0
    low = int(binom.ppf(tail, n, share))
    high = int(binom.ppf(1.0 - tail, n, share)) + 1
    return max(int(np.floor(share * n + 1e-9)), 1), low, high


def _value(limit: Limit | None) -> float:
    return -inf if limit is None or limit.good_up_to is None else limit.good_up_to


def _at(order: Sequence[float], place: int) -> float:
    if place < 1:
        return -inf
    return inf if place > len(order) else order[place - 1]


def _note(value: float, limits: Iterable[Limit]) -> str:
    if value == -inf:
        return BELOW
    return BEYOND if any(limit.is_open and value >= limit.tried_to for limit in limits) else ""
