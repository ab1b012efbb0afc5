"""What a stone and speed take off the static answer: the dynamic limit, case by case."""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from math import radians
from typing import Any

from sidehill.engines import THREADED
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import Subject
from sidehill.strip.limit import Limit, find_limits
from sidehill.workers import mapped

STONES = (0.05, 0.10, 0.15)  # [m]
SPEEDS = (0.5, 1.0, 2.0, 4.0)  # [m/s]
TOLERANCE = radians(0.1)
LOCKED = {"drive.differential": "locked"}
ENVELOPING = {"run.tyre": "enveloping"}
ANSWERS = ("lift", "overturn", "overturn_locked", "lift_enveloping", "overturn_enveloping")
_STEEPEST = radians(45.0)  # no limit is looked for past it
_PAST = radians(2.0)  # past the static answers


@dataclass(frozen=True)
class Answer:
    """A limit beside the static answer to the same question, on the same ground."""

    limit: Limit
    static: float  # [deg]

    @property
    def derating(self) -> float | None:
        """[deg] under the static answer; None unless the machine itself ended what was good.

        Sliding, stalling or not standing at the start say nothing of what the stone takes.
        """
        good = self.limit.highest_good
        tipped = self.limit.verdict_at_limit in ("wheel_lifted", "on_stop", "overturned")
        return self.static - good if good is not None and tipped else None

    def to_dict(self) -> dict[str, Any]:
        """Plain values."""
        return self.limit.to_dict() | {"static_deg": self.static, "derating_deg": self.derating}


@dataclass(frozen=True)
class Crossing:
    """One stone at one speed."""

    stone: float  # [m]
    speed: float  # [m/s]
    lift: Answer  # open differential, as shipped
    overturn: Answer  # the same
    overturn_locked: Answer  # differential locked: it pulls through where the open one stalls
    lift_enveloping: Answer  # open differential, on tyres that envelop the stone
    overturn_enveloping: Answer  # the same

    def to_dict(self) -> dict[str, Any]:
        """Plain values, units in the names."""
        return {
            "stone_m": self.stone,
            "speed_m_s": self.speed,
            **{name: getattr(self, name).to_dict() for name in ANSWERS},
        }


def crossings(
    subject: Subject,
    lift_off: float,
    overturn: float,
    engine: str,
    watch: Callable[[int, int], None] = lambda done, of: None,
) -> tuple[Crossing, ...]:
    """Limits over every stone at every speed, on the shipped bank with a stone.

    Args:
        lift_off, overturn: [deg] the static answers; watch: called with rows done and in all.
    """
    high = min(radians(max(lift_off, overturn)) + _PAST, _STEEPEST)

    def crossing(row: tuple[float, float]) -> Crossing:
        speed, stone = row
        both, static = ("lift", "overturn"), (lift_off, overturn)
        ground = {"feature.1.height": stone, "drive.speed": speed}
        found = (
            *_limits(subject, ground, both, high, engine),
            *_limits(subject, ground | LOCKED, ("overturn",), high, engine),
            *_limits(subject, ground | ENVELOPING, both, high, engine),
        )
        beside = (*static, overturn, *static)
        return Crossing(stone, speed, *map(Answer, found, beside))

    return tuple(mapped(crossing, list(product(SPEEDS, STONES)), engine in THREADED, watch))


def _limits(
    subject: Subject,
    ground: dict[str, Any],
    untils: tuple[str, ...],
    high: float,
    engine: str,
) -> tuple[Limit, ...]:
    """Side slopes at which it lifts a wheel or goes over."""
    case = subject.on(load_scenario("bank-stone").with_values(ground))
    return find_limits(case, "slope", untils, 0.0, high, TOLERANCE, engine=engine)
