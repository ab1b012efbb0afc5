"""What a stone and speed take off the static answer, and what the drive does: case by case."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import product
from math import degrees, radians
from typing import Any

from sidehill.engines import THREADED
from sidehill.files.units import NOT_COMPUTED
from sidehill.run.facts import NOT_ACROSS
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import Subject
from sidehill.strip.limits import Limit
from sidehill.strip.spot import Spot
from sidehill.strip.strip import Strip, take_strip
from sidehill.strip.words import EVENT_WORDS
from sidehill.workers import mapped

STONES = (0.05, 0.10, 0.15)  # [m]
SPEEDS = (0.5, 1.0, 2.0, 4.0)  # [m/s]
EVENTS = ("lifted", "overturned", NOT_ACROSS)
DRIVES: dict[str, dict[str, Any]] = {  # the last two need no grip of the tyres
    "rear drive, open": {"drive.four_wheel": False, "drive.differential": "open"},
    "rear drive, locked": {"drive.four_wheel": False, "drive.differential": "locked"},
    "front drive engaged": {"drive.four_wheel": True, "drive.differential": "open"},
    "pushed": {"drive.four_wheel": False, "drive.hold": "pushed"},
    "pushed, tyres that envelop": {
        "drive.four_wheel": False,
        "drive.hold": "pushed",
        "run.tyre": "enveloping",
    },
}
TOLERANCE, SCAN = radians(0.1), radians(1.0)
_LOWEST, _STEEPEST = radians(1.0), radians(45.0)  # no limit is looked for past them
_PAST = radians(2.0)  # past the static answers


@dataclass(frozen=True)
class Answer:
    """A limit beside the static answer to the same question, on the same ground."""

    limit: Limit
    ending: str  # what the first run past it came to; empty: none is past it
    static: float | None  # [deg]; None: there is no static answer to the question

    @property
    def derating(self) -> float | None:
        """[deg] under the static answer; None unless the event itself ended what was good.

        Sliding, getting stuck or not standing at the start say nothing of what the stone takes.
        """
        limit = self.limit
        came = limit.first_bad is not None and limit.unknown_from is None
        if self.static is None or limit.good_up_to is None or not came:
            return None
        return self.static - degrees(limit.good_up_to)

    def to_dict(self) -> dict[str, Any]:
        """Plain values."""
        limit = self.limit
        return {
            "good_up_to_deg": _degrees(limit.good_up_to),
            "first_bad_deg": _degrees(limit.first_bad),
            "unknown_from_deg": _degrees(limit.unknown_from),
            "good_again_deg": [[degrees(low), degrees(high)] for low, high in limit.good_again],
            "ending": self.ending or None,
            "static_deg": self.static,
            "derating_deg": self.derating,
        }


@dataclass(frozen=True)
class Crossing:
    """One stone at one speed under one drive."""

    stone: float  # [m]
    speed: float  # [m/s]
    drive: str  # a key of `DRIVES`
    answers: Mapping[str, Answer]  # by event of `EVENTS`

    def to_dict(self) -> dict[str, Any]:
        """Plain values, units in the names."""
        return {
            "stone_m": self.stone,
            "speed_m_s": self.speed,
            "drive": self.drive,
            **{event: answer.to_dict() for event, answer in self.answers.items()},
        }


def crossings(
    subject: Subject,
    lift_off: float,
    overturn: float,
    engine: str,
    watch: Callable[[int, int], None] = lambda done, of: None,
) -> tuple[Crossing, ...]:
    """Limits over every stone at every speed by every drive, on the shipped bank with a stone.

    Args:
        lift_off, overturn: [deg] the static answers; watch: called with rows done and in all.
    """
    static = {"lifted": lift_off, "overturned": overturn, NOT_ACROSS: None}
    high = min(radians(max(lift_off, overturn)) + _PAST, _STEEPEST)

    def crossing(row: tuple[float, float, str]) -> Crossing:
        speed, stone, drive = row
        changed = {"feature.1.height": stone, "drive.speed": speed, **DRIVES[drive]}
        case = subject.on(load_scenario("bank-stone").with_values(changed))
        strip = take_strip(
            case, "slope", low=_LOWEST, high=high, scan=SCAN, tolerance=TOLERANCE, until=EVENTS,
            engine=engine,
        )  # fmt: skip
        return Crossing(
            stone, speed, drive, {event: _answer(strip, event, static[event]) for event in EVENTS}
        )

    rows = list(product(SPEEDS, STONES, drives(subject)))
    return tuple(mapped(crossing, rows, engine in THREADED, watch))


def drives(subject: Subject) -> tuple[str, ...]:
    """Those that the machine has; an ideal push is there for all."""
    has_front = subject.machine.drive.driven == "four"
    return tuple(name for name, how in DRIVES.items() if has_front or not how["drive.four_wheel"])


def _answer(strip: Strip, event: str, static: float | None) -> Answer:
    ending = next((spot for spot in strip.spots if not spot.is_short_of(event)), None)
    return Answer(strip.limit(event), "" if ending is None else _words(ending, event), static)


def _words(spot: Spot, event: str) -> str:
    """The event, or what came before it could."""
    if event != NOT_ACROSS and spot.has_reached(event):
        return EVENT_WORDS[event]
    return spot.outcome.why.partition("; ")[0] or NOT_COMPUTED


def _degrees(value: float | None) -> float | None:
    return None if value is None else degrees(value)
