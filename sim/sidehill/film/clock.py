"""Film time to record time: slow where it matters, still where it must be seen."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

DIFFER = 2.0  # [s] before the run, in which is pointed out what differs
FREEZE, HOLD = 1.6, 1.0  # [s] on daylight; on the last picture
OPENING, CARD, CAUTION = 2.0, 5.0, 6.0  # [s] of the card before the film and those after it
BEFORE, AFTER = 0.30, 0.70  # [s] of the record around an event that run slow
APART = 0.4  # [s] two freezes are at least that far apart


@dataclass(frozen=True)
class Tempo:
    """How many times slower or quicker than real a film runs where it does."""

    slow: float = 4.0  # around lift-off and overturn; 1 for none
    quick: float = 4.0  # where nothing happens; 1 for none


@dataclass(frozen=True)
class Moment:
    """One frame of a film."""

    time: float  # [s] of the record
    speed: float  # times real speed
    stage: Literal["opening", "differ", "run", "freeze", "hold", "card", "caution"]


@dataclass(frozen=True)
class Pace:
    """How fast a film runs at which time of the record."""

    tempo: Tempo
    quick: tuple[tuple[float, float], ...]  # [s] of the record in which nothing happens
    spans: tuple[tuple[float, float], ...]  # [s] of the record that run slow

    def at(self, time: float) -> float:
        """Times real speed."""
        if any(start <= time < end for start, end in self.spans):
            return 1.0 / self.tempo.slow
        is_quick = any(start <= time < end for start, end in self.quick)
        return self.tempo.quick if is_quick else 1.0


def spread(starts: Iterable[float]) -> list[float]:
    """Freezes in order, those that follow another within `APART` left out."""
    kept: list[float] = []
    for start in sorted(starts):
        if not kept or start > kept[-1] + APART:
            kept.append(start)
    return kept


def schedule(end: float, freezes: Sequence[float], pace: Pace, fps: int) -> tuple[Moment, ...]:
    """Every frame from the start of the record to the cards at the end.

    Args:
        end: [s] of the longest record.
        freezes: [s] at which the film stands still, in order.
    """
    moments, time, waiting = [], 0.0, list(freezes)
    while time < end:
        if waiting and time >= waiting[0]:
            still = Moment(waiting.pop(0), 0.0, "freeze")
            moments += [still] * round(FREEZE * fps)
        speed = pace.at(time)
        moments.append(Moment(time, speed, "run"))
        time += speed / fps
    moments += [
        Moment(freeze, 0.0, "freeze") for freeze in waiting for _ in range(round(FREEZE * fps))
    ]
    moments += [Moment(end, 0.0, "hold")] * round(HOLD * fps)
    moments += [Moment(end, 0.0, "card")] * round(CARD * fps)
    return tuple(moments + [Moment(end, 0.0, "caution")] * round(CAUTION * fps))


def opened(
    moments: tuple[Moment, ...], fps: int, *, card: bool, differ: bool
) -> tuple[Moment, ...]:
    """The same with a card before, and with what differs pointed out, where there is any."""
    cards = (Moment(0.0, 0.0, "opening"),) * round(OPENING * fps * card)
    return cards + (Moment(0.0, 0.0, "differ"),) * round(DIFFER * fps * differ) + moments
