"""How far a strip is good: up to where no wheel comes up, and up to where one at most hops."""

from dataclasses import dataclass

from sidehill.run.facts import NOT_ACROSS
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip


@dataclass(frozen=True)
class Reach:
    """Values in SI; None: not even at the lowest tried."""

    planted_up_to: float | None  # all up to it are planted, met everything and got there
    good_up_to: float | None  # the same, a hop allowed
    ending: Spot | None  # the first that is not good; None: the whole strip is
    good_again: tuple[float, ...]  # where a good range begins above it
    tried_from: float
    tolerance: float  # to which the strip's changes are known

    def is_clear_to(self, value: float) -> bool:
        """Whether nothing good begins again below a value: else the end itself is in doubt."""
        return not any(start < value for start in self.good_again)


def reach_of(strip: Strip) -> Reach:
    """Read off a strip; a spot is good in every engine that was asked, or it is not."""
    good = [spot.is_good for spot in strip.spots]
    planted = [
        is_good and spot.is_short_of("hopped") and spot.is_short_of(NOT_ACROSS)
        for spot, is_good in zip(strip.spots, good, strict=True)
    ]
    first = _leading(good)
    again = [
        spot.value
        for k, spot in enumerate(strip.spots)
        if k > first and good[k] and not good[k - 1]
    ]
    return Reach(
        planted_up_to=_last(strip, _leading(planted)),
        good_up_to=_last(strip, first),
        ending=strip.spots[first] if first < len(strip.spots) else None,
        good_again=tuple(again),
        tried_from=strip.spots[0].value,
        tolerance=strip.tolerance,
    )


def _leading(flags: list[bool]) -> int:
    """How many are True before the first that is not."""
    return flags.index(False) if False in flags else len(flags)


def _last(strip: Strip, count: int) -> float | None:
    return strip.spots[count - 1].value if count else None
