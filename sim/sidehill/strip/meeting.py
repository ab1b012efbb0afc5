"""A value at which several strips do what they are wanted for: where their bands overlap."""

from collections.abc import Callable, Sequence
from itertools import product

from sidehill.run.facts import Facts
from sidehill.strip.strip import Strip

Wanted = Callable[[Facts], bool]


def meeting(wishes: Sequence[tuple[Strip, Wanted]]) -> tuple[float, float] | None:
    """[SI] the widest range in which every strip has facts that are wanted of it; None: nowhere.

    Between two values that were tried with different facts nothing is taken for known.
    """
    choices = [[band for band in strip.bands() if wanted(band.facts)] for strip, wanted in wishes]
    ranges = [
        (max(band.low for band in bands), min(band.high for band in bands))
        for bands in product(*choices)
    ]
    found = [(low, high) for low, high in ranges if low < high]
    return max(found, key=lambda ends: ends[1] - ends[0], default=None)
