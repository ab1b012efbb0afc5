"""How likely something is where a study has spreads, with the interval of the estimate."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from statistics import fmean, stdev

from scipy.stats import binomtest, t

from sidehill.run.facts import NOT_ACROSS, NOT_STARTED
from sidehill.sweep.measure import TOLD_EVENTS

LEVEL = 0.95
TOLD = ("lifted", "on_stop", "overturned", NOT_ACROSS, NOT_STARTED)  # of a picture, in order
EXACT = "Clopper and Pearson"
FEWEST = 5  # draws of either kind in every replicate, for an interval from them (common practice)


@dataclass(frozen=True)
class Probability:
    """An event's share of draws, as an interval that takes in what proves nothing."""

    event: str
    happened: int
    not_started: int  # could not stand there: not as the event for `low`, as it for `high`
    unproved: int  # nothing known, or ended before the event could have come or been missed: so too
    draws: int
    low: float
    high: float
    method: str = EXACT  # of the interval
    level: float = LEVEL

    @property
    def least(self) -> float:
        """Share of the draws in which it is known to have happened."""
        return self.happened / self.draws

    @property
    def most(self) -> float:
        """Share of the draws in which it is not proved to have been absent."""
        return (self.happened + self.not_started + self.unproved) / self.draws


def probability(
    outcomes: Iterable[bool | str | None], event: str, replicates: Sequence[int] = ()
) -> Probability:
    """The probability of an event by what draws say of it.

    Args:
        outcomes: came, did not come, `not_started`, None: not proved otherwise.
        replicates: of which randomised replicate each draw is; none: all are of one.

    The interval is Clopper and Pearson's (Biometrika 26, 1934), which holds its level for
    independent draws. Draws of one Latin hypercube or Sobol sequence are spread more evenly than
    that, so it is as a rule wider than need be. With several randomised replicates, which are
    independent of each other, it is Student's of their shares (Owen, Monte Carlo theory, methods
    and examples, ch. 17; from memory), if each has seen either side often enough. The upper end
    counts what is not proved as the event.

    Raises:
        ValueError: no draws, or an event that is not one of `TOLD_EVENTS`.
    """
    seen = list(outcomes)
    if event not in TOLD_EVENTS or not seen:
        raise ValueError(f"{len(seen)} draws of event '{event}'")
    happened = [answer is True for answer in seen]
    possible = [answer is not False for answer in seen]
    low, by_low = _interval(happened, replicates)
    high, by_high = _interval(possible, replicates)
    not_started = sum(answer == NOT_STARTED for answer in seen)
    return Probability(
        event=event,
        happened=sum(happened),
        not_started=not_started,
        unproved=sum(possible) - sum(happened) - not_started,
        draws=len(seen),
        low=low[0],
        high=high[1],
        method=by_high if by_high == by_low else f"{by_low}; upper end {by_high}",
    )


def _interval(came: Sequence[bool], replicates: Sequence[int]) -> tuple[tuple[float, float], str]:
    """Ends, and by what method."""
    counts = Counter(replicates)
    hits = Counter(which for which, did in zip(replicates, came, strict=False) if did)
    rare = min((min(hits[k], counts[k] - hits[k]) for k in counts), default=0)
    if len(counts) < 2 or rare < FEWEST:
        ends = binomtest(sum(came), len(came)).proportion_ci(LEVEL, "exact")
        return (float(ends.low), float(ends.high)), EXACT
    shares = [hits[k] / counts[k] for k in counts]
    half = float(t.ppf(0.5 + LEVEL / 2.0, len(shares) - 1)) * stdev(shares) / sqrt(len(shares))
    middle = fmean(shares)
    return (max(middle - half, 0.0), min(middle + half, 1.0)), f"{len(shares)} replicates"
