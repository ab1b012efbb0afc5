"""Spread of simulated answers: each input at its low and high value, the others at their best.

Where an answer takes seconds of simulation, sampling it would take hours. Two runs an input give
its own effect; the sum of the effects stands in for the simulation, and is sampled.
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sidehill.case import Settings
from sidehill.engines import THREADED
from sidehill.files.errors import InputError
from sidehill.spread.inputs import SECTION_WIDTH, Input, inputs, with_inputs
from sidehill.spread.interval import Answer, Interval, sampled
from sidehill.spread.subject import Subject
from sidehill.statics.vector import Array
from sidehill.workers import mapped

Watch = Callable[[int, int], None]
FLOOR = 0.0  # [deg] no slope under it was tried


@dataclass(frozen=True)
class Found:
    """The answer at one point."""

    slope: float | None  # [deg]; None: there is none
    ends: str = ""  # what it ended with there, in words


@dataclass(frozen=True)
class Point:
    """One point of the design."""

    subject: Subject
    settings: Settings
    values: Mapping[str, float]  # SI, of every input


def design(subject: Subject) -> dict[tuple[str, float], Point]:
    """The points by input and value; the best one under each input's best value too."""
    known = inputs(subject)
    best = {name: item.best for name, item in known.items()}
    return {
        (name, value): _point(subject, best | {name: value}, name)
        for name, item in known.items()
        for value in {item.low, item.best, item.high}
    }


def _point(subject: Subject, values: dict[str, float], changed: str) -> Point:
    machine = with_inputs(subject.machine, subject.outfit, {changed: values[changed]})
    # a tyre that stands on none of its width has one disc, in its middle
    settings = Settings(discs=1) if values[SECTION_WIDTH] == 0.0 else Settings()
    return Point(replace(subject, machine=machine), settings, values)


def simulated_spread(
    quantity: str,
    subject: Subject,
    simulate: Callable[[Point], Found],
    names: Sequence[str],
    engine: str,
    watch: Watch = lambda done, of: None,
) -> Interval | str:
    """The interval of a simulated slope [deg], or why it has none.

    Args:
        names: inputs that bear on it; the others stay at their best.
    """
    known = {name: item for name, item in inputs(subject).items() if name in names}
    try:
        points = {key: point for key, point in design(subject).items() if key[0] in known}
    except InputError as error:
        return f"no machine with an input at its low or high value: {error}"
    # the best point comes once an input: run it once
    unique = {tuple(point.values.values()): point for point in points.values()}
    runs = mapped(simulate, list(unique.values()), engine in THREADED, watch)
    answers = dict(zip(unique, runs, strict=True))
    found = {key: answers[tuple(point.values.values())] for key, point in points.items()}
    if (lack := _lack(known, found)) is not None:
        return lack
    slopes = {key: item.slope for key, item in found.items() if item.slope is not None}
    interval = sampled(quantity, _sum_of_effects(known, slopes), known, _ends(runs))
    if not interval.low <= interval.best <= interval.high:
        return (
            f"the effects do not add up, it jumps: {interval.best:.1f} deg at the best, "
            f"{min(slopes.values()):.1f} deg at the lowest of {len(runs)} searches; {_ends(runs)}"
        )
    return interval


def _lack(known: Mapping[str, Input], found: Mapping[tuple[str, float], Found]) -> str | None:
    lost = [key for key, item in found.items() if item.slope is None]
    if not lost:
        return None
    first = next(iter(known.values()))
    if (first.name, first.best) in lost:
        return f"none is good, not even the level: {found[lost[0]].ends or 'no answer'}"
    away = sorted({name for name, _ in lost})
    return f"none is good with {', '.join(away)} off the best: {found[lost[0]].ends or 'no answer'}"


def _ends(runs: Sequence[Found]) -> str:
    """How the runs of the design ended, where that was looked at."""
    counted = Counter(item.ends for item in runs if item.ends)
    told = ", ".join(f"{name} {count}" for name, count in counted.most_common())
    return f"what the limit is, over {len(runs)} searches: {told}" if told else ""


def _sum_of_effects(known: Mapping[str, Input], found: Mapping[tuple[str, float], float]) -> Answer:
    """Straight lines between the values tried, level beyond them, added up over the inputs."""
    first = next(iter(known.values()))
    best = found[first.name, first.best]

    def answer(values: Mapping[str, Array]) -> Array:
        total = np.full(np.broadcast_shapes(*(np.shape(v) for v in values.values())), best)
        for name, item in known.items():
            at = sorted({item.low, item.best, item.high})
            total = total + np.interp(values[name], at, [found[name, v] - best for v in at])
        return np.asarray(np.maximum(total, FLOOR))

    return answer
