"""One thing that varies, and its values at quantiles."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from sidehill.study.distribution import Distribution, Unit

Values = Any  # (n,) array of numbers or words


@dataclass(frozen=True)
class Axis:
    """One thing that varies: a name, and a list of values, a distribution, or a table's column."""

    name: str  # of its column
    form: str  # of `vary.Form`; "table": its values are the rows of a file
    values: tuple[Any, ...]  # of the list or the table; else as of `Distribution`
    field: str = ""  # its name in the study
    weights: tuple[float, ...] = ()
    low: float | None = None  # nothing is drawn beyond
    high: float | None = None

    @property
    def levels(self) -> int:
        """How many values a list has; 1 of what is drawn."""
        return len(self.values) if self.form == "list" else 1

    @property
    def is_drawn(self) -> bool:
        """Whether its values are drawn at random."""
        return self.form not in ("list", "table")

    def at(self, quantile: Unit) -> Values:
        """The values at quantiles: of a list each has an equal share, or that of its weight."""
        if self.form in ("list", "weighted"):
            share = np.cumsum(self.weights or np.ones(len(self.values)))
            place = np.searchsorted(share / share[-1], quantile, side="right")
            return np.asarray(self.values)[np.minimum(place, len(self.values) - 1)]
        return self._distribution.at(quantile)

    @property
    def left(self) -> float:
        """Share of the whole distribution between its ends."""
        return self._distribution.share

    @property
    def _distribution(self) -> Distribution:
        return Distribution(self.form, self.values, self.low, self.high)
