"""How likely something is where a study has spreads, with the interval of the estimate."""

from collections.abc import Iterable
from dataclasses import dataclass

from scipy.stats import binomtest

from sidehill.run.facts import NOT_ACROSS
from sidehill.strip.limits import ALL_EVENTS

LEVEL = 0.95
TOLD = ("lifted", "on_stop", "overturned", NOT_ACROSS)  # events of a picture, in order


@dataclass(frozen=True)
class Probability:
    """An event's share of draws, as an interval that takes in what proves nothing."""

    event: str
    happened: int
    unproved: int  # nothing known, or ended before the event could have come or been missed:
    # not as the event for `low`, as it for `high`
    draws: int
    low: float
    high: float
    level: float = LEVEL

    @property
    def least(self) -> float:
        """Share of the draws in which it is known to have happened."""
        return self.happened / self.draws

    @property
    def most(self) -> float:
        """Share of the draws in which it is not proved to have been absent."""
        return (self.happened + self.unproved) / self.draws


def probability(answers: Iterable[bool | None], event: str) -> Probability:
    """The probability of an event by what draws say of it: came, did not come, None: not proved.

    The interval is Clopper and Pearson's (Biometrika 26, 1934), which holds its level for
    independent draws. Latin hypercube and Sobol draws are spread more evenly than that, so it
    is as a rule wider than need be. Its upper end counts what is not proved as the event.

    Raises:
        ValueError: no draws, or an event that is not one of `ALL_EVENTS`.
    """
    seen = list(answers)
    if event not in ALL_EVENTS or not seen:
        raise ValueError(f"{len(seen)} draws of event '{event}'")
    happened = sum(answer is True for answer in seen)
    unproved = sum(answer is None for answer in seen)
    low = binomtest(happened, len(seen)).proportion_ci(LEVEL, "exact").low
    high = binomtest(happened + unproved, len(seen)).proportion_ci(LEVEL, "exact").high
    return Probability(event, happened, unproved, len(seen), float(low), float(high))
