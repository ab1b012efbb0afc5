"""Numbers in the cells of the sheet's tables: slopes and energies down, loads and ratios up."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite, isnan, radians
from typing import Any

from sidehill.advice.finding import Finding
from sidehill.files.units import round_to, show_angle, show_slope
from sidehill.spread.interval import Interval
from sidehill.strip.phrase import reason

UNKNOWN = "not computed"
UNCHECKED = "not checked"
ALTERNATES = "(!)"


@dataclass(frozen=True)
class Cell:
    """One cell: what it says, and whether it says that something is past a limit or unknown."""

    text: str
    small: str = ""  # in a line of its own
    tone: str = ""  # "bad", "unknown" or nothing; the text says it too


def given(degrees: float) -> str:
    """A slope that was asked for or driven on, to the nearest."""
    return show_slope(radians(degrees))


def slope(degrees: float) -> str:
    """A slope that something starts at, rounded down."""
    return UNKNOWN if isnan(degrees) else show_slope(radians(degrees), "down")


def least(found: Interval | str) -> Cell:
    """The lower end, with the best estimate in brackets."""
    if isinstance(found, str):
        return Cell(UNKNOWN, found, "unknown")
    low = slope(found.low) if isfinite(found.low) else "no slope lifts it"
    best = slope(found.best) if isfinite(found.best) else "none"
    return Cell(low, f"[{best}]")


def gain(degrees: float) -> Cell:
    """What is added to a slope as delivered; less where it takes away."""
    if isnan(degrees):
        return Cell(UNKNOWN, tone="unknown")
    sign = "+" if degrees > 0.0 else ""
    return Cell(sign + show_angle(radians(degrees), "down"))


def driven(row: Mapping[str, Any], until: str) -> Cell:
    """A driven limit of a row of `compare`: never made to look better than it is."""
    good, judged = row[f"{until}_highest_good_deg"], row[f"{until}_verdict_at_limit"]
    if isinstance(row["problem"], str):
        return Cell(UNKNOWN, row["problem"], "unknown")
    if not isinstance(judged, str):
        return Cell(f"none found up to {slope(good)}")
    why = judged if reason(until, judged) == judged else ""
    if not isnan(good):
        mark = "" if row[f"{until}_is_threshold"] else ALTERNATES
        return Cell(slope(good), f"{why} {mark}".strip())
    if len(json.loads(row[f"{until}_bands"])) == 1:
        return Cell("at no slope tried", why, "bad")
    return Cell("not at the lowest tried", f"{why} {ALTERNATES}".strip(), "bad")


def share(finding: Finding, us: bool) -> Cell:
    """A figure with a limit: how much of it is used, or a share beside its least."""
    if finding.verdict == UNCHECKED:
        text = UNCHECKED if finding.value is None else finding.value_text(us)
        return Cell(text, UNCHECKED if finding.value is not None else "", "unknown")
    if finding.kind == "share" or finding.ratio is None:
        used = finding.value_text(us)
    else:
        used = f"{round_to(100.0 * finding.ratio, 0, 'up'):.0f} %"
    return Cell(used, "over", "bad") if finding.verdict == "over" else Cell(used)


def times(finding: Finding | None) -> Cell:
    """A figure as a multiple of the one as delivered."""
    if finding is None or finding.ratio is None:
        return Cell(UNCHECKED, tone="unknown")
    return Cell(f"{round_to(finding.ratio, 2, 'up'):.2f} ×")


def judged(finding: Finding, us: bool) -> Cell:
    """A figure with its verdict in words."""
    if finding.verdict == UNCHECKED:
        value = finding.value_text(us)
        return Cell(UNCHECKED if finding.value is None else value, tone="unknown")
    if finding.verdict == "over":
        word = "past the limit"
        return Cell(finding.value_text(us), f"{word} of {finding.limit_text(us)}", "bad")
    return Cell(finding.value_text(us), f"within {finding.limit_text(us)}")
