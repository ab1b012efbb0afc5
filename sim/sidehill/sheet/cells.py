"""Numbers in the cells of the sheet's tables: slopes and energies down, loads and ratios up."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, isnan, radians

from sidehill.advice.finding import Finding
from sidehill.files.units import NOT_COMPUTED, round_to, show_slope
from sidehill.spread.interval import Interval
from sidehill.strip.strip import Strip

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
    return NOT_COMPUTED if isnan(degrees) else show_slope(radians(degrees), "down")


def least(found: Interval | str) -> Cell:
    """The lower end, with the best estimate in brackets."""
    if isinstance(found, str):
        return Cell(NOT_COMPUTED, found, "unknown")
    low = slope(found.low) if isfinite(found.low) else "no slope lifts it"
    best = slope(found.best) if isfinite(found.best) else "none"
    return Cell(low, f"[{best}]")


def limit(strip: Strip | None, event: str) -> Cell:
    """How far a strip is short of an event: never made to look better than it is."""
    if strip is None:
        return Cell(NOT_COMPUTED, tone="unknown")
    read = strip.limit(event)
    if read.runs_backwards:
        return Cell("no limit", "it comes at the lowest tried, not at all higher ones", "bad")
    if read.good_up_to is None:
        return Cell("at no slope tried", tone="bad")
    mark = ALTERNATES if read.alternates else ""
    shown = show_slope(read.good_up_to, "down")
    if read.is_open:
        return Cell(f"none found up to {shown}")
    if read.unknown_from is not None:
        return Cell(shown, f"nothing proved beyond {mark}".strip())
    return Cell(shown, mark)


def share(finding: Finding, us: bool) -> Cell:
    """A figure with a limit: how much of it is used, or a share beside its least."""
    if finding.judgement == UNCHECKED:
        text = UNCHECKED if finding.value is None else finding.value_text(us)
        return Cell(text, UNCHECKED if finding.value is not None else "", "unknown")
    if finding.kind == "share" or finding.ratio is None:
        used = finding.value_text(us)
    else:
        used = f"{round_to(100.0 * finding.ratio, 0, 'up'):.0f} %"
    return Cell(used, "over", "bad") if finding.judgement == "over" else Cell(used)


def tyre_used_most(findings: Sequence[Finding], state: str) -> Finding | None:
    """The tyre nearest to its rating, or past it most; None if any is not known."""
    those = [finding for finding in findings if finding.what.startswith(state)]
    if any(finding.judgement == UNCHECKED for finding in those):
        return None
    return max(those, key=lambda finding: finding.ratio or 0.0)


def times(finding: Finding | None) -> Cell:
    """A figure as a multiple of the one as delivered."""
    if finding is None or finding.ratio is None:
        return Cell(UNCHECKED, tone="unknown")
    return Cell(f"{round_to(finding.ratio, 2, 'up'):.2f} ×")


def judged(finding: Finding, us: bool) -> Cell:
    """A figure with its judgement in words."""
    if finding.judgement == UNCHECKED:
        value = finding.value_text(us)
        return Cell(UNCHECKED if finding.value is None else value, tone="unknown")
    if finding.judgement == "over":
        wants = "at least" if finding.bound == "least" else "at most"
        return Cell(finding.value_text(us), f"should be {wants} {finding.limit_text(us)}", "bad")
    word = "keeps to at least" if finding.bound == "least" else "within"
    return Cell(finding.value_text(us), f"{word} {finding.limit_text(us)}")
