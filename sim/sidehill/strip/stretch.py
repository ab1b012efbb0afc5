"""A strip without gaps: what is known of every piece between two neighbouring runs."""

from dataclasses import dataclass
from itertools import pairwise

from sidehill.run.facts import Facts
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip


@dataclass(frozen=True)
class Stretch:
    """From one value to the next at which anything changes [SI], and what was told there."""

    low: float
    high: float
    facts: tuple[Facts, ...]  # of all its runs, in every engine: the worst of them counts


def stretches(strip: Strip) -> tuple[Stretch, ...]:
    """The pieces by rising value; between two runs that differ, both are told."""
    found: list[Stretch] = []
    for a, b in pairwise(strip.spots):
        facts = _told(a, b)
        if found and found[-1].facts == facts:
            found[-1] = Stretch(found[-1].low, b.value, facts)
        else:
            found.append(Stretch(a.value, b.value, facts))
    return tuple(found)


def _told(a: Spot, b: Spot) -> tuple[Facts, ...]:
    return tuple(dict.fromkeys((*a.told, *b.told)))
