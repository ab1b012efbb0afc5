"""Limits along one thing that varies, and what kind of answer each of them is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from sidehill.picture.cells import levels
from sidehill.strip.quantity import Varied
from sidehill.strip.words import EVENT_WORDS
from sidehill.sweep.limits import answer_of, read_limit


@dataclass(frozen=True)
class Point:
    """One answer. The value is the highest good one, or the end of what was tried."""

    x: Any
    value: float  # in the column's unit; NaN where there is none to draw
    answer: str  # of `limits.ANSWERS`

    @property
    def is_threshold(self) -> bool:
        """Whether all up to it is good, and what is above is not, as far as was tried."""
        return self.answer in ("event", "unproved")


@dataclass(frozen=True)
class Side:
    """A pane: what is asked, and the column that answers."""

    words: str
    column: str
    event: str | None = None  # None: statics
    varied: Varied | None = None


def sides(table: pd.DataFrame, events: Sequence[str], varied: Varied) -> list[Side]:
    """Statics, where a slope is looked for, and every event beside them."""
    still = [
        Side("standing still, rigid tyres,\nuntil a wheel lifts", "rigid_lift_off_slope_deg"),
        Side(
            "standing still, tyres that give,\nuntil a wheel lifts", "compliant_lift_off_slope_deg"
        ),
    ]
    driven = [
        Side(
            f"driven, until\n{EVENT_WORDS[event]}",
            f"{event}_good_up_to_{varied.suffix}",
            event,
            varied,
        )
        for event in events
    ]
    return [*(s for s in still if varied.name == "slope" and s.column in table), *driven]


def points(table: pd.DataFrame, x: str, side: Side) -> list[Point]:
    """One point a level, the lowest one where a level has several rows."""
    found = []
    for level in levels(table[x]):
        rows = [_point(row, x, side) for _, row in table[table[x] == level].iterrows()]
        found.append(min(rows, key=_badness))
    return found


def _badness(point: Point) -> tuple[bool, float]:
    """Unknown first, then from the lowest."""
    is_none = point.answer in ("none good", "backwards")
    return point.answer != "unknown", -1.0 if is_none else point.value


def _point(row: "pd.Series[Any]", x: str, side: Side) -> Point:
    nothing = Point(row[x], float("nan"), "unknown")
    if side.event is None or side.varied is None:
        is_known = pd.isna(row["problem"]) and not pd.isna(row[side.column])
        return Point(row[x], float(row[side.column]), "event") if is_known else nothing
    limit = read_limit(row, side.event, side.varied)
    answer = answer_of(limit)
    if limit is None or answer == "unknown":
        return nothing
    lowest = float(row[f"tried_from_{side.varied.suffix}"])
    return Point(row[x], lowest if limit.good_up_to is None else limit.good_up_to, answer)


def corners(lines: Mapping[Any, Sequence[Point]]) -> tuple[Point, Point, Point, Point]:
    """The lowest levels of both variables, a middle one of the first, of the second, of both.

    Args:
        lines: points by the level of the second variable, each over the same levels of the first.
    """
    found = list(lines.values())
    base, more = found[0], found[len(found) // 2]
    middle = len(base) // 2
    return base[0], base[middle], more[0], more[middle]
