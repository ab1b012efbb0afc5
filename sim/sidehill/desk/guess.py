"""What the guesses cost: the interval of lift-off, and what to measure next to narrow it."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite, radians

from sidehill.desk.tractor import Tractor
from sidehill.files.units import NOT_COMPUTED, round_to, show_threshold
from sidehill.machine.outfit import Outfit
from sidehill.spread.closed import BODY, TYRE_INPUTS, lift_off_answer
from sidehill.spread.inputs import (
    CG_HEIGHT,
    FRONT_LOAD,
    FRONT_STIFFNESS,
    REAR_LOAD,
    REAR_STIFFNESS,
    Input,
    inputs,
)
from sidehill.spread.interval import LEVEL, Interval, sampled
from sidehill.spread.subject import Subject

COPIED = 0.10  # relative standard error of another machine's figure (judgement, no source)
MEASURED_HEIGHT = 0.05  # of a CG height from scales: that of the word "weighed"
REAR_TRACK, PIVOT = "rear track", "pivot pin height"
_LENGTHS = {  # exact where measured; the axle loads tell the balance whatever the wheelbase is
    REAR_TRACK: ("rear_tyre.track", "rear_track"),
    PIVOT: ("front_axle.pivot_height", "pin_height"),
}
_LOADS = {FRONT_LOAD: "weighed.front_axle", REAR_LOAD: "weighed.rear_axle"}
_HOW = {
    CG_HEIGHT: "weigh it level, then with the front raised: `sidehill weigh` tells how",
    FRONT_LOAD: "put the front wheels on scales",
    REAR_LOAD: "put the rear wheels on scales",
    REAR_TRACK: "measure tyre centre to tyre centre",
    PIVOT: "measure from the ground to the middle of the pin",
    FRONT_STIFFNESS: "give size and pressure; a measured stiffness is rare",
    REAR_STIFFNESS: "give size and pressure; a measured stiffness is rare",
}


@dataclass(frozen=True)
class Guess:
    """The interval, by figure how much of it, and what would narrow it most."""

    interval: Interval
    shares: tuple[tuple[str, float, str], ...]  # figure, [deg], how well it is known; widest first
    best_next: str  # the figure that can be measured and moves it most; empty: none is left
    how: str
    narrowed: tuple[float, float] | None  # [deg] the interval with that figure measured

    @property
    def words(self) -> str:
        """In one sentence; slopes rounded down."""
        low, best, high = (self.interval.low, self.interval.best, self.interval.high)
        upper = show_threshold(radians(high)) if isfinite(high) else "no upper end"
        return (
            f"Standing still, a wheel lifts at {show_threshold(radians(low))} to {upper}, best "
            f"estimate {show_threshold(radians(best))} ({100 * LEVEL:.0f} of 100 draws)."
        )

    @property
    def narrowed_words(self) -> str:
        """How wide it is, and would be."""
        if self.narrowed is None or not all(map(isfinite, self.narrowed)):
            return ""
        wide = self.interval.high - self.interval.low
        then = self.narrowed[1] - self.narrowed[0]
        if not isfinite(wide):
            return ""
        return (
            f"it would make the interval about {round_to(then, 1, 'up'):.1f} deg wide in place of "
            f"{round_to(wide, 1, 'up'):.1f}"
        )


def guess_of(tractor: Tractor, outfit: Outfit) -> Guess | str:
    """The guess of a tractor in an outfit, or why there is none."""
    if tractor.machine is None:
        return NOT_COMPUTED
    subject = Subject(tractor.machine, outfit, gaps={})
    if (lack := subject.lacks()) is not None:
        return lack
    known = _known(subject, tractor.origins)
    answer = lift_off_answer(subject, {name: part for name, (_, part) in _LENGTHS.items()})
    interval = sampled("lift-off slope", answer, known)
    ordered = sorted(interval.shares.items(), key=lambda pair: -pair[1])
    shares = tuple((name, share, known[name].stated) for name, share in ordered)
    best_next = next((name for name, _ in ordered if _can_be_better(name, known, tractor)), "")
    if not best_next:
        return Guess(interval, shares, "", "", None)
    better = known | {best_next: _measured(known[best_next])}
    then = sampled("lift-off slope", answer, better)
    return Guess(interval, shares, best_next, _HOW[best_next], (then.low, then.high))


def _known(subject: Subject, origins: Mapping[str, str]) -> dict[str, Input]:
    """The inputs that bear on lift-off; what was copied is far less well known."""
    every = inputs(subject)
    found = {name: every[name] for name in (*BODY, *TYRE_INPUTS)}
    for name, path in _LOADS.items():
        if path in origins:
            found[name] = _copied(name, found[name].best)
    for name, (path, part) in _LENGTHS.items():
        if path in origins:
            found[name] = _copied(name, float(getattr(subject.tipping, part)))
    return found


def _copied(name: str, best: float) -> Input:
    ends = (best * (1 - 2 * COPIED), best * (1 + 2 * COPIED))
    return Input(name, best, *ends, True, f"{100 * COPIED:.0f} %, copied")


def _can_be_better(name: str, known: Mapping[str, Input], tractor: Tractor) -> bool:
    """Whether it is a guess that a scale or a tape would end."""
    if name == CG_HEIGHT:
        return known[name].error / known[name].best > MEASURED_HEIGHT * 1.01
    paths = _LOADS | {length: path for length, (path, _) in _LENGTHS.items()}
    return name in paths and paths[name] in tractor.origins


def _measured(guessed: Input) -> Input:
    """The same figure, measured: a CG height from scales, anything else to 1 %."""
    share = MEASURED_HEIGHT if guessed.name == CG_HEIGHT else 0.01
    best = guessed.best
    return Input(guessed.name, best, best * (1 - 2 * share), best * (1 + 2 * share), True, "")
