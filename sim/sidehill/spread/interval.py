"""An answer with the interval that its inputs' spreads make of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import isfinite, radians
from typing import Any

import numpy as np

from sidehill.files.known import known
from sidehill.files.units import show_threshold
from sidehill.spread.inputs import Input
from sidehill.statics.vector import Array

SAMPLES = 20_000
SEED = 4
LEVEL = 0.95  # of the samples lie in the interval, equal shares beyond each end

Answer = Callable[[Mapping[str, Array]], Array]  # values of inputs (n,) -> (n,) [deg]


@dataclass(frozen=True)
class Interval:
    """A side slope [deg], unrounded. NaN ends where over half a tail has no answer."""

    quantity: str
    best: float  # with every input as the files give it
    low: float
    high: float
    error: float  # standard deviation of the samples
    shares: Mapping[str, float]  # [deg] standard deviation by each input alone
    note: str = ""

    @property
    def largest(self) -> str:
        """The input that counts most."""
        return max(self.shares, key=lambda name: self.shares[name])


def sampled(quantity: str, answer: Answer, known: Mapping[str, Input], note: str = "") -> Interval:
    """The interval of an answer that takes arrays of its inputs."""
    random = np.random.default_rng(SEED)
    best = {name: np.array(item.best) for name, item in known.items()}
    drawn = {name: item.draw(SAMPLES, random) for name, item in known.items()}
    values = answer(drawn)
    # no answer: the CG is so low that nothing lifts; that belongs to the upper end
    whole = np.where(np.isnan(values), np.inf, values)
    tail = (1 - LEVEL) / 2
    low, high = np.quantile(whole, [tail, 1 - tail], method="inverted_cdf")
    return Interval(
        quantity=quantity,
        best=float(answer(best)),
        low=float(low),
        high=float(high) if np.isfinite(high) else float("nan"),
        error=float(np.nanstd(values)),
        shares={name: float(np.nanstd(answer(best | {name: drawn[name]}))) for name in known},
        note=note,
    )


def interval_data(interval: Interval) -> dict[str, Any]:
    """Plain values, units in the names; an end that has no answer is None."""
    return {
        "best_deg": interval.best,
        "low_deg": interval.low,
        "high_deg": known(interval.high),
        "standard_error_deg": interval.error,
        "level": LEVEL,
        "largest": interval.largest,
        "shares_deg": dict(interval.shares),
        "note": interval.note,
    }


def interval_cells(name: str, found: Interval | str) -> dict[str, str]:
    """One row of the summary; `why` is empty unless there is no interval."""
    if isinstance(found, str):
        return {"quantity": name, "why": found, "note": ""}
    return {
        "quantity": name,
        "why": "",
        "low": show_threshold(radians(found.low)),
        "best": show_threshold(radians(found.best)),
        "high": show_threshold(radians(found.high)) if isfinite(found.high) else "no upper end",
        "largest": found.largest,
        "note": found.note,
    }
