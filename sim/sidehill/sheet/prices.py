"""The price table: what each option costs axles, loader, steering, bearings, tyres, roll bar."""

from typing import Any

from sidehill.advice.finding import Finding
from sidehill.advice.ranked import Ranked
from sidehill.files.units import show, show_slope
from sidehill.sheet.cells import UNCHECKED, Cell, given, share, times, tyre_used_most
from sidehill.sheet.findings import Findings

_SHARES = ("share as fitted", "share at worst", "share with the bucket full")


def price_headings(found: Findings) -> list[str]:
    """Column names, with the limits that are the same for all."""
    us, price = found.wish.us, _first(found).price

    def of(finding: Finding) -> str:
        return "" if finding.limit is None else f", of {finding.limit_text(us)}"

    front, rear = price.axles
    return [
        "option",
        f"front axle load{of(front)}",
        f"rear axle load{of(rear)}",
        f"loader load{of(price.loader[0])}",
        "front share of the mass, at least 20 %",
        "the same at worst",
        "rear share, bucket full, at least 25 %",
        "front bearing, standing",
        "front bearing, peak",
        "rear bearing, standing",
        "rear bearing, peak",
        "tyre used most, standing",
        "tyre used most, peak",
        f"roll bar: mass{of(price.roll_bar[0])}",
    ]


def price_rows(found: Findings) -> list[dict[str, Any]]:
    """One row an option, in the order of the ranking."""
    return [
        {"name": option.option, "cells": _cells(option, found.wish.us)}
        for option in found.ranking.options
    ]


def _first(found: Findings) -> Ranked:
    return found.ranked(found.delivered)


def _cells(option: Ranked, us: bool) -> list[Cell]:
    price = option.price
    shares = {finding.what: finding for finding in price.shares}
    return [
        *(share(finding, us) for finding in (*price.axles, *price.loader)),
        *(share(shares[what], us) for what in _SHARES),
        *(
            times(price.heaviest_bearing(end, state))
            for end in ("front", "rear")
            for state in ("static", "peak")
        ),
        *(_tyres(price.tyres, state, us) for state in ("static", "peak")),
        share(price.roll_bar[0], us),
    ]


def _tyres(findings: tuple[Finding, ...], state: str, us: bool) -> Cell:
    """The tyre nearest to its rating, or past it most; unknown if any is."""
    used = tyre_used_most(findings, state)
    return Cell(UNCHECKED, tone="unknown") if used is None else share(used, us)


def price_notes(found: Findings) -> list[str]:
    """What stands behind the columns, and what could not be checked."""
    us, loads = found.wish.us, found.loads
    own = given(loads.slope)
    on = (
        f"Peaks are of runs over this scenario on its own slope, {own}."
        if loads.is_own
        else f"Peaks are of runs on {own}, the steepest whole degree on which every option comes "
        "across; on a steeper bank they are higher."
    )
    ended = [f"{name} ({why})" for name, why in loads.ended.items()]
    lost = [f"No peak of what did not come across: {', '.join(ended)}."] if ended else []
    grade = f"a grade of {show_slope(found.site.steepest_grade)}"
    return [
        "Loads standing on the scenario's slope. Axle loads and the worst share are the most and "
        f"the least of the level and {grade}, nose up and nose down.",
        on,
        *lost,
        f"Bearings: bending moment as a multiple of {found.delivered}. {_moments(found, us)}No "
        "rating of a bearing is known. Tyre ratings are for a steady load.",
        *_unchecked(found),
    ]


def _moments(found: Findings, us: bool) -> str:
    """The heaviest loaded bearing of each axle as delivered, so that the two can be compared."""
    told = []
    for end in ("front", "rear"):
        for state, word in (("static", "standing"), ("peak", "at the peak")):
            finding = _first(found).price.heaviest_bearing(end, state)
            if finding is not None and finding.value is not None:
                moment = show(finding.value, "torque", us=us, rounding="up")
                told.append(f"{end} {moment} {word}")
    return f"As delivered the heaviest loaded ones carry {', '.join(told)}. " if told else ""


def _unchecked(found: Findings) -> list[str]:
    """Each reason once, with what it leaves open."""
    reasons: dict[str, list[str]] = {}
    for finding in _first(found).price.findings:
        if finding.judgement == UNCHECKED and finding.as_delivered is None:
            items = reasons.setdefault(finding.reason, [])
            items.append(f"{finding.item} {finding.what}")
    return [f"Not checked: {', '.join(items)}: {why}." for why, items in reasons.items()]
