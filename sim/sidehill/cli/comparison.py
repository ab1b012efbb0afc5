"""The table of `compare` for people: the same cells on the screen and in a report."""

import json
from collections.abc import Sequence
from typing import Any

import pandas as pd
from rich.table import Table

from sidehill.files.units import show
from sidehill.run.words import UNKNOWN, threshold
from sidehill.strip.phrase import reason

HEADINGS = (
    "option",
    "mass",
    "standing: lifts at",
    "driven: lifts above",
    "on its stop above",
    "over, off or stalled above",
)
_UNTILS = ("lift", "stop", "overturn")
_THROUGHOUT = "throughout"
_ALTERNATES = "(!)"
_DISPUTED = "(?)"


def rows(table: pd.DataFrame, *, us: bool = False) -> list[list[str]]:
    """One list of cells an option."""
    return [_cells(row, us) for _, row in table.iterrows()]


def footnotes(table: pd.DataFrame) -> list[str]:
    """What the headings and the marks in the cells mean, those that occur."""
    cells = " ".join(cell for row in rows(table) for cell in row)
    notes = {
        _THROUGHOUT: f"throughout: at every slope tried ({_lowest(table)}), so none is good",
        _ALTERNATES: "(!): good and bad slopes alternate, so there is no threshold; "
        "the bands are in the table's file",
        _DISPUTED: "(?): run again at the limit, the reference engine decides otherwise: "
        "do not use this limit",
        "not_settled": "not_settled: no four wheels on the ground before the start",
        "stalled": "stalled: it came to a halt before the end, which is no good result",
    }
    always = [
        "standing: side slope at which the uphill rear wheel lifts, standing still, on the "
        "simulation's tyres",
        "driven: the highest slope still good; a verdict beside it says how it ended above",
    ]
    return always + [note for mark, note in notes.items() if mark in cells]


def screen(table: pd.DataFrame, *, us: bool = False) -> Table:
    """The table for a terminal; a section for each group, which is named before the comma."""
    found = Table(*HEADINGS)
    last = None
    for cells in rows(table, us=us):
        group, comma, name = cells[0].partition(", ")
        if comma and group != last:
            found.add_section()
            found.add_row(group, style="bold")
            last = group
        found.add_row(name or group, *cells[1:])
    return found


def markdown(headings: Sequence[str], cells: Sequence[Sequence[str]]) -> str:
    """A table in Markdown."""
    lines = [headings, ["---"] * len(headings), *cells]
    return "\n".join(
        "| " + " | ".join(cell.replace("|", "/").replace("\n", " ") for cell in line) + " |"
        for line in lines
    )


def _cells(row: "pd.Series[Any]", us: bool) -> list[str]:
    problem = None if pd.isna(row["problem"]) else f"{UNKNOWN}: {row['problem']}"
    mass, standing = row["mass_kg"], row["compliant_lift_off_slope_deg"]
    shown = UNKNOWN if pd.isna(mass) else show(mass, "mass", us=us, rounding="up")
    return [
        row["option"],
        shown.partition(" (")[0],
        UNKNOWN if pd.isna(standing) else threshold(standing),
        *(problem or _limit(row, until) for until in _UNTILS),
    ]


def _limit(row: "pd.Series[Any]", until: str) -> str:
    good, judged = row[f"{until}_highest_good_deg"], row[f"{until}_verdict_at_limit"]
    agrees = row[f"{until}_reference_agrees"]
    disputed = "" if pd.isna(agrees) or agrees else f" {_DISPUTED}"
    mark = ("" if row[f"{until}_is_threshold"] else f" {_ALTERNATES}") + disputed
    if pd.isna(judged):
        return f"none found up to {threshold(good)}{mark}"
    why = f", {judged}" if reason(until, judged) == judged else ""
    if not pd.isna(good):
        return f"{threshold(good)}{why}{mark}"
    if len(_bands(row, until)) == 1:
        return f"{_THROUGHOUT}{why}{disputed}"
    return f"the lowest tried{why}{mark}"


def _bands(row: "pd.Series[Any]", until: str) -> list[dict[str, Any]]:
    return list(json.loads(row[f"{until}_bands"]))


def _lowest(table: pd.DataFrame) -> str:
    """The lowest slope that was tried."""
    known = [row for _, row in table.iterrows() if pd.isna(row["problem"])]
    lows = [_bands(row, "lift")[0]["low"] for row in known]
    return f"from {threshold(min(lows, default=None))}"
