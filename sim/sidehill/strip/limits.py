"""The limits that are read off a strip: how far it is short of an event, and what then."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from sidehill.run.facts import EVENTS, NOT_ACROSS
from sidehill.strip.spot import Spot

ALL_EVENTS = (*EVENTS, NOT_ACROSS)


@dataclass(frozen=True)
class Limit:
    """How far a strip is short of one event; values in SI, None where there is none.

    A value is short of an event only if its run met everything and got to an end without it.
    """

    event: str
    good_up_to: float | None  # all values up to it are short of the event
    first_bad: float | None  # the first at which it came
    unknown_from: float | None  # the first value past `good_up_to`, if nothing is proved there
    good_again: tuple[tuple[float, float], ...]  # ranges above that are short of it
    tried_to: float  # the highest value of the strip

    @property
    def runs_backwards(self) -> bool:
        """Whether the lowest value is not short of it and higher ones are: then no limit."""
        return self.good_up_to is None and bool(self.good_again)

    @property
    def is_open(self) -> bool:
        """Whether the whole strip is short of it."""
        return self.first_bad is None and self.unknown_from is None

    @property
    def alternates(self) -> bool:
        """Whether values short of it lie above one that is not."""
        return bool(self.good_again)


def limit_of(spots: Sequence[Spot], event: str) -> Limit:
    """The limit of an event.

    Args:
        spots: at least one, by rising value.
    """
    short = [spot.is_short_of(event) for spot in spots]
    first = short.index(False) if False in short else len(spots)
    ending = spots[first] if first < len(spots) else None
    unproved = ending is not None and not ending.has_reached(event)
    ranges = []
    for is_short, group in groupby(spots[first:], key=lambda spot: spot.is_short_of(event)):
        if is_short:
            values = [spot.value for spot in group]
            ranges.append((values[0], values[-1]))
    return Limit(
        event=event,
        good_up_to=spots[first - 1].value if first > 0 else None,
        first_bad=next((spot.value for spot in spots if spot.has_reached(event)), None),
        unknown_from=ending.value if ending is not None and unproved else None,
        good_again=tuple(ranges),
        tried_to=spots[-1].value,
    )
