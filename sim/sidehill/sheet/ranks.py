"""The ranked table of the appendix: what each option buys, and the plainest of what it costs."""

from typing import Any

from sidehill.advice.ranked import Ranked
from sidehill.files.units import NOT_COMPUTED, show, show_slope
from sidehill.sheet.cells import ALTERNATES, Cell, least, limit
from sidehill.sheet.findings import Findings
from sidehill.sheet.signs import sign_of
from sidehill.strip.words import island_words

HEADINGS = (
    "place",
    "option",
    "on this bank",
    "driven, all wheels stay down up to",
    "driven, at most a hop up to",
    "driven, axle stop not met up to",
    "driven, not over up to",
    "standing, lifts a wheel: at least [best estimate]",
    "standing, goes over: at least [best estimate]",
    "energy to tip on the bank",
    "width over the tyres",
    "mass",
)


def rank_rows(found: Findings) -> list[dict[str, Any]]:
    """One row an option, best first: place, name, mark, cells."""
    return [
        {
            "place": "–" if option.place is None else str(option.place),
            "name": option.option,
            "is_first": option.option == found.delivered,
            "is_pareto": option.is_pareto,
            "cells": _cells(found, option),
        }
        for option in found.ranking.options
    ]


def _cells(found: Findings, option: Ranked) -> list[Cell]:
    us, stand, look = (
        found.wish.us,
        found.standing[option.option],
        found.looks.options[option.option],
    )
    energy = show(option.buys["energy_to_tip_j"], "energy", us=us, rounding="down")
    sign, reach = sign_of(look), look.reach
    return [
        Cell(sign.words, look.problem, "" if look.is_good else "bad"),
        _up_to(None if reach is None else reach.planted_up_to, reach is not None),
        _up_to(look.good_up_to, reach is not None),
        limit(look.strip, "on_stop"),
        limit(look.strip, "overturned"),
        least(stand.lift_off),
        least(stand.overturn),
        Cell(energy, tone="unknown" if energy == NOT_COMPUTED else ""),
        Cell(show(option.costs["tyre_width_m"], "length", us=us, rounding="up")),
        Cell(show(option.costs["mass_kg"], "mass", us=us, rounding="up")),
    ]


def _up_to(value: float | None, is_known: bool) -> Cell:
    if not is_known:
        return Cell(NOT_COMPUTED, tone="unknown")
    return (
        Cell("on no slope tried", tone="bad") if value is None else Cell(show_slope(value, "down"))
    )


def rank_notes(found: Findings) -> list[str]:
    """What headings and marks mean, those that occur."""
    cells = " ".join(f"{c.text} {c.small}" for row in rank_rows(found) for c in row["cells"])
    strips = [look.strip for look in found.looks.options.values() if look.strip is not None]
    notes = [
        f"{found.delivered} is what the others are compared with. Ranked by how far driving over "
        "this scenario is good: every slope up to there is met, got across, and no wheel does more "
        "than hop (never up for over 0.5 s, nor by over 50 mm).",
        "Standing, lifts a wheel: on its own tyres. Standing, goes over: closed form on rigid "
        "tyres, the fall from lift-off onto the axle stop taken without loss. Standing slopes are "
        "without a grade along the heading.",
        "Pareto: no other option is as good on every count of buying and costing, and better on "
        "one. The others are beaten outright by some option of the table.",
    ]
    notes += [f"Strips: {island_words(strips[0])}."] if strips else []
    if ALTERNATES in cells:
        notes.append("(!): good and bad slopes alternate above it, so there is no threshold.")
    return notes
