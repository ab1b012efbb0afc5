"""Distributions of a drawn field: its values at quantiles."""

from dataclasses import dataclass
from math import log
from typing import Any

import numpy as np
from numpy.typing import NDArray

Unit = NDArray[np.float64]  # of [0, 1)
_SHY = 2.0**-54  # keeps a quantile off 0, where a normal distribution has no value


@dataclass(frozen=True)
class Distribution:
    """A form and its numbers, in the unit of the field's column.

    normal: mean, standard deviation. lognormal: median, factor of one standard deviation.
    uniform: low, high. triangular: low, mode, high.
    """

    form: str  # of `vary.Form`
    values: tuple[float, ...]
    low: float | None = None  # nothing is drawn beyond
    high: float | None = None

    def at(self, quantile: Unit) -> Unit:
        """The values at quantiles; what is cut off has its share spread over what is left."""
        known = self._known()
        first = 0.0 if self.low is None else float(known.cdf(self.low))
        last = 1.0 if self.high is None else float(known.cdf(self.high))
        found = known.ppf(np.maximum(first + (last - first) * quantile, _SHY))
        return np.asarray(np.clip(found, self.low, self.high), dtype=float)

    @property
    def share(self) -> float:
        """How much of the whole distribution is left between its ends."""
        known = self._known()
        first = 0.0 if self.low is None else known.cdf(self.low)
        return float((1.0 if self.high is None else known.cdf(self.high)) - first)

    def _known(self) -> Any:
        from scipy import stats  # a third of a second, which workers, who draw nothing, are spared

        if self.form == "normal":
            return stats.norm(*self.values)
        if self.form == "lognormal":
            median, factor = self.values
            return stats.lognorm(log(factor), scale=median)
        low, *mode, high = self.values
        if mode:
            return stats.triang((mode[0] - low) / (high - low), low, high - low)
        return stats.uniform(low, high - low)
