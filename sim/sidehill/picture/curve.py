"""Critical values along one thing that varies, and what kind of answer each of them is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import pandas as pd

from sidehill.picture.cells import levels
from sidehill.strip.phrase import EVENTS, reason
from sidehill.sweep.probability import is_known

# event: good up to here, then the event; ended: then it slid or stalled; lost: then nothing is
# known; alternates: good again higher up, no threshold; none found: all good; none good: all bad
Answer = Literal["event", "ended", "lost", "alternates", "none found", "none good", "unknown"]


@dataclass(frozen=True)
class Point:
    """One answer. The value is the highest good one, or the end of what was tried."""

    x: Any
    value: float  # in the column's unit; NaN where there is none to draw
    answer: Answer

    @property
    def is_threshold(self) -> bool:
        """Whether all below is good and all above bad, as far as was tried."""
        return self.answer in ("event", "ended", "lost")


@dataclass(frozen=True)
class Side:
    """A pane: what is asked, and the column that answers."""

    words: str
    column: str
    until: str | None = None  # None: statics
    low: float = 0.0  # lowest value tried


_UNTIL = {
    "lift": "driven,\nuntil a wheel lifts",
    "stop": "driven, until it comes onto\nits axle stop",
    "overturn": "driven, until it overturns,\nslides or stalls",
}


def sides(table: pd.DataFrame, of: str, untils: Sequence[str], unit: str) -> list[Side]:
    """Statics, where a slope is looked for, and every event beside them."""
    still = [
        Side("standing still, rigid tyres,\nuntil a wheel lifts", "rigid_lift_off_slope_deg"),
        Side(
            "standing still, tyres that give,\nuntil a wheel lifts", "compliant_lift_off_slope_deg"
        ),
    ]
    driven = [Side(_UNTIL[until], f"{until}_highest_good_{unit}", until) for until in untils]
    return [*(side for side in still if of == "slope" and side.column in table), *driven]


def points(table: pd.DataFrame, x: str, side: Side) -> list[Point]:
    """One point a level, the lowest one where a level has several rows."""
    found = []
    for level in levels(table[x]):
        rows = [_point(row, x, side) for _, row in table[table[x] == level].iterrows()]
        found.append(min(rows, key=_badness))
    return found


def _badness(point: Point) -> tuple[bool, float]:
    """Unknown first, then from the lowest."""
    return point.answer != "unknown", -1.0 if point.answer == "none good" else point.value


def _point(row: "pd.Series[Any]", x: str, side: Side) -> Point:
    value, at = row[side.column], row[x]
    if not pd.isna(row["problem"]):
        return Point(at, float("nan"), "unknown")
    if side.until is None:
        return Point(at, float(value), "unknown" if pd.isna(value) else "event")
    judged = row[f"{side.until}_verdict_at_limit"]
    if pd.isna(judged):
        return Point(at, float(value), "unknown" if pd.isna(value) else "none found")
    if pd.isna(value):
        return Point(at, float(row[f"{side.until}_lowest_bad_{_unit(side)}"]), "none good")
    return Point(at, float(value), _answer(row, side.until, str(judged)))


def _unit(side: Side) -> str:
    return side.column.partition("_highest_good_")[2]


def _answer(row: "pd.Series[Any]", until: str, judged: str) -> Answer:
    if not row[f"{until}_is_threshold"]:
        return "alternates"
    if not is_known(judged):
        return "lost"
    return "event" if reason(until, judged) in EVENTS.values() else "ended"


def corners(lines: Mapping[Any, Sequence[Point]]) -> tuple[Point, Point, Point, Point]:
    """The lowest levels of both variables, a middle one of the first, of the second, of both.

    Args:
        lines: points by the level of the second variable, each over the same levels of the first.
    """
    found = list(lines.values())
    base, more = found[0], found[len(found) // 2]
    middle = len(base) // 2
    return base[0], base[middle], more[0], more[middle]
