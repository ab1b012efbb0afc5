"""How likely something is where a study has spreads, with the interval of the estimate."""

from collections.abc import Iterable
from dataclasses import dataclass

from scipy.stats import binomtest

from sidehill.run.outcome import UNKNOWN, VERDICTS

LEVEL = 0.95

_LIGHTER = ("wheel_lifted", "crossed")
# event -> verdicts that count as it; what is not known counts apart
EVENTS = {
    "overturned": ("overturned",),
    "not_across": tuple(name for name in VERDICTS if name not in (*UNKNOWN, *_LIGHTER)),
    "not_crossed": tuple(name for name in VERDICTS if name not in (*UNKNOWN, "crossed")),
}
EVENT_WORDS = {
    "overturned": "overturned",
    "not_across": "overturned, slid, stalled or left on its axle stop",
    "not_crossed": "anything but crossed: a wheel lifted, or worse",
}


@dataclass(frozen=True)
class Probability:
    """An event's share of draws, as an interval that takes in what is not known."""

    event: str
    happened: int
    unknown: int  # failed, not settled, missing: not as the event for `low`, as it for `high`
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
        """Share of the draws in which it is not known to have been absent."""
        return (self.happened + self.unknown) / self.draws


def probability(verdicts: Iterable[object], event: str) -> Probability:
    """The probability of an event by the verdicts of draws; anything but a verdict is unknown.

    The interval is Clopper and Pearson's (Biometrika 26, 1934), which holds its level for
    independent draws. Latin hypercube and Sobol draws are spread more evenly than that, so it
    is as a rule wider than need be. Its upper end counts what is unknown as the event.

    Raises:
        ValueError: no draws, or an event that is not one of EVENTS.
    """
    seen = list(verdicts)
    if event not in EVENTS or not seen:
        raise ValueError(f"{len(seen)} draws of event '{event}'")
    happened = sum(verdict in EVENTS[event] for verdict in seen)
    unknown = sum(not is_known(verdict) for verdict in seen)
    low = binomtest(happened, len(seen)).proportion_ci(LEVEL, "exact").low
    high = binomtest(happened + unknown, len(seen)).proportion_ci(LEVEL, "exact").high
    return Probability(event, happened, unknown, len(seen), float(low), float(high))


def is_known(verdict: object) -> bool:
    """Whether it is the verdict of a run that was driven to its end."""
    return isinstance(verdict, str) and verdict in VERDICTS and verdict not in UNKNOWN
