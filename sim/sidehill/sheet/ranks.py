"""The ranked table: what each option buys, and the plainest of what it costs."""

from typing import Any

from sidehill.advice.ranked import Ranked
from sidehill.files.units import show
from sidehill.sheet.cells import ALTERNATES, UNKNOWN, Cell, driven, gain, least
from sidehill.sheet.findings import BY, Findings
from sidehill.strip.trial import UNTIL

HEADINGS = (
    "place",
    "option",
    "standing, lifts a wheel: at least [best estimate]",
    "gain of that",
    "standing, goes over: at least [best estimate]",
    "energy to tip on the bank",
    "driven, no wheel lifts up to",
    "driven, axle stop not met up to",
    "driven, not over, off or stalled up to",
    "width over the tyres",
    "mass",
)


def rank_rows(found: Findings) -> list[dict[str, Any]]:
    """One row an option, best first: place, name, mark, cells."""
    rows = {row["option"]: row for row in found.table.to_dict("records")}
    return [
        {
            "place": "–" if option.place is None else str(option.place),
            "name": option.option,
            "is_first": option.option == found.delivered,
            "is_pareto": option.is_pareto,
            "cells": _cells(found, option, rows[option.option]),
        }
        for option in found.ranking.options
    ]


def _cells(found: Findings, option: Ranked, row: dict[str, Any]) -> list[Cell]:
    us, stand = found.wish.us, found.standing[option.option]
    energy = show(option.buys["energy_to_tip_j"], "energy", us=us, rounding="down")
    return [
        least(stand.lift_off),
        gain(option.gains[BY]),
        least(stand.overturn),
        Cell(energy, tone="unknown" if energy == UNKNOWN else ""),
        *(driven(row, until) for until in UNTIL),
        Cell(show(option.costs["tyre_width_m"], "length", us=us, rounding="up")),
        Cell(show(option.costs["mass_kg"], "mass", us=us, rounding="up")),
    ]


def rank_notes(found: Findings) -> list[str]:
    """What headings and marks mean, those that occur."""
    rows = rank_rows(found)
    cells = " ".join(f"{c.text} {c.small}" for row in rows for c in row["cells"])
    always = [
        f"{found.delivered} is what the others are compared with. Ranked by the lower end of the "
        "slope at which the uphill rear wheel lifts, standing still on its own tyres.",
        "Standing, goes over: closed form on rigid tyres, the fall from lift-off onto the axle "
        "stop taken without loss. Standing slopes are without a grade along the heading.",
        "Driven: over this scenario, the highest slope still good; a verdict beside it says how "
        "the next one ended. Only what comes across counts.",
        "Pareto: no other option is as good on every count of buying and costing, and better on "
        "one. The others are beaten outright by some option of the table.",
    ]
    marks = {
        ALTERNATES: "(!): good and bad slopes alternate, so there is no threshold.",
        "stalled": "stalled: it came to a halt before the end, which is no good result.",
        "slid": "slid: it went over 0.5 m off its path.",
        "not_settled": "not_settled: no four wheels on the ground before the start.",
    }
    return always + [note for mark, note in marks.items() if mark in cells]
