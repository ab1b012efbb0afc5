"""A strip as one line of letters, for a terminal."""

from collections.abc import Iterable

from sidehill.files.units import NOT_COMPUTED
from sidehill.run.facts import ARRIVAL, STABILITY, worst_seen
from sidehill.strip.stretch import Stretch, stretches
from sidehill.strip.strip import Strip

LETTERS = {"planted": ".", "hopped": "-", "lifted": "=", "on_stop": "#", "overturned": "X"}
OTHERS = {"not_across": "/", "not_started": "o"}  # worse than all but going over
UNKNOWN = "?"


def letter(stability: str | None, arrival: str | None) -> str:
    """The letter of a result: whether it got there goes before how it stood, going over first."""
    if stability is None or arrival is None:
        return UNKNOWN
    if stability == "overturned":
        return LETTERS[stability]
    return OTHERS.get(arrival, LETTERS[stability])


def bar(strip: Strip, width: int = 68) -> str:
    """The whole strip from its lowest value to its highest, the worst of each letter's part."""
    parts, low, high = stretches(strip), strip.spots[0].value, strip.spots[-1].value
    each = (high - low) / width
    return "".join(_worst(parts, low + k * each, low + (k + 1) * each) for k in range(width))


def _worst(parts: Iterable[Stretch], low: float, high: float) -> str:
    inside = [part for part in parts if part.low < high and part.high > low]
    return letter(*worst_seen(facts for part in inside for facts in part.facts))


def legend(line: str) -> list[str]:
    """What the letters of a bar mean, those that occur."""
    words = {LETTERS[name]: words for name, words in STABILITY.items()}
    words |= {OTHERS[name]: ARRIVAL[name] for name in OTHERS} | {UNKNOWN: NOT_COMPUTED}
    return [f"{mark}  {said}" for mark, said in words.items() if mark in line]
