"""A ladder in words: the same cells on the page and on the screen."""

from dataclasses import replace
from math import radians
from typing import Any

from markupsafe import Markup

from sidehill.crosscheck.derating import EVENTS, STONES, Answer, Crossing
from sidehill.crosscheck.ladder import Ladder
from sidehill.crosscheck.remainder import Remainder
from sidehill.crosscheck.rung import FIGURES, Rung, step
from sidehill.files.fields import Quantity
from sidehill.files.problems import note_of
from sidehill.files.units import DIMENSIONS, round_to, show, show_slope
from sidehill.machine.outfit import Outfit
from sidehill.picture.ladder import Line, ladder_picture
from sidehill.spread.inputs import inputs
from sidehill.spread.interval import LEVEL, interval_cells

NONE = "–"  # the state does not exist, or is not computed; the rung's note says which
STONE_HEADINGS = (
    "speed",
    "stone",
    "drive",
    "no wheel lifts up to",
    "not over up to",
    "gets across up to",
)


def slope(degrees: float | None) -> str:
    """A threshold, rounded down."""
    return NONE if degrees is None else show_slope(radians(degrees), "down")


def outfit_words(outfit: Outfit) -> str:
    """What was put on, as far as it was given."""
    given = sorted(outfit.model_fields_set)
    return ", ".join(f"{name.replace('_', ' ')} {_shown(outfit, name)}" for name in given) or (
        "as delivered"
    )


def _shown(outfit: Outfit, name: str) -> str:
    value, note = getattr(outfit, name), note_of(Outfit.model_fields[name])
    if isinstance(note, Quantity) and isinstance(value, float):
        return f"{value:g} {DIMENSIONS[note.dimension].si}".strip()
    return str(value)


def ladder_words(ladder: Ladder, us: bool = False) -> dict[str, Any]:
    """Everything but the picture."""
    return {
        "about": f"{ladder.subject.machine.name}, {outfit_words(ladder.subject.outfit)}; standing "
        "unless a course is named.",
        "level": f"{100 * LEVEL:.0f} %",
        "intervals": [interval_cells(name, found) for name, found in ladder.intervals.items()],
        "spreads": ", ".join(
            f"{item.name} {item.stated}" for item in inputs(ladder.subject).values()
        ),
        "rungs": [rung_cells(ladder.rungs, rung) for rung in ladder.rungs],
        "remainder": remainder_words(ladder.remainder),
        "stones": stone_cells(ladder.crossings, us),
    }


def page_words(ladder: Ladder, us: bool = False) -> dict[str, Any]:
    """Everything the page needs; the picture's text is escaped already."""
    picture = ladder_picture(picture_lines(ladder.rungs), "The ladder")
    return ladder_words(ladder, us) | {"picture": Markup(picture)}


def rung_cells(rungs: tuple[Rung, ...], rung: Rung) -> dict[str, Any]:
    """One rung: its three figures, each with its change."""
    cells = []
    for figure in FIGURES:
        change = step(rungs, rung, figure)
        above = change is not None and change.since == rung.over
        since = "" if change is None or above else f" since {change.since.removeprefix('+ ')}"
        told = "" if change is None else f"{change.change:+.2f} deg{since}"
        cells.append({"value": slope(getattr(rung, figure)), "change": told})
    return {
        "name": rung.name,
        "cells": cells,
        "assumption": rung.assumption,
        "fails": rung.fails,
        "missing": rung.missing if rung.is_computed else f"could not compute: {rung.missing}",
        "is_computed": rung.is_computed,
    }


def picture_lines(rungs: tuple[Rung, ...]) -> list[Line]:
    """The same for the picture."""
    lines = []
    for rung in rungs:
        change = step(rungs, rung, "lift_off")
        line = Line(rung.name, rung.lift_off, rung.second_stage, rung.overturn)
        lines.append(replace(line, change=change.change, since=change.since) if change else line)
    return lines


def remainder_words(found: Remainder | str) -> list[str]:
    """Why the simulated fall goes over at another slope than the closed form says."""
    if isinstance(found, str):
        return [f"could not compute: {found}"]
    told = [
        f"Closed form, no loss: overturn at {slope(found.no_loss)}. But the body falls about one "
        "line and the whole machine goes over about another: of the energy of the fall the blow on "
        f"the stop leaves {100 * found.kept_share:.0f} %. With that loss the closed form gives "
        f"{slope(found.with_blow)}."
    ]
    if found.hard_tyres is None:
        return [*told, "The simulation on thin tyres that hardly give does not go over."]
    left = found.hard_tyres - found.with_blow
    return [
        *told,
        f"The simulation, on thin tyres that hardly give, goes over at {slope(found.hard_tyres)}: "
        f"{left:+.2f} deg are not explained by the blow. The machine's own tyres then lower it "
        "again: that is the tilt tables' figure.",
    ]


def stone_cells(found: tuple[Crossing, ...] | str, us: bool) -> dict[str, Any]:
    """The table of stones, or why there is none."""
    if isinstance(found, str):
        return {"about": f"could not compute: {found}", "rows": []}
    stones = ", ".join(show(stone, "length", us=us) for stone in STONES)
    about = (
        f"The shipped bank with a stone, hard ground, stones of {stones} under the uphill wheels. "
        "Ways to be driven: the rear drive open and locked, the front drive engaged, and an ideal "
        "push that needs no grip. More grip does not always get further: compare row by row. "
        "Beside each limit: what it lacks of the standing answer where a "
        "wheel lifted or it went over, else what the next run came to. (!): good and bad slopes "
        "alternate, no threshold."
    )
    rows = [
        [
            show(row.speed, "speed", us=us),
            show(row.stone, "length", us=us),
            row.drive,
            *(answer_words(row.answers[event]) for event in EVENTS),
        ]
        for row in found
    ]
    return {"about": about, "headings": STONE_HEADINGS, "rows": rows}


def answer_words(answer: Answer) -> str:
    """One limit: never made to look better than it is."""
    limit, takes = answer.limit, answer.derating
    if limit.runs_backwards:
        return f"no limit, not even the lowest tried, though steeper is good (!): {answer.ending}"
    if limit.good_up_to is None:
        return f"none good, not even the lowest tried: {answer.ending}"
    alternates = " (!)" if limit.alternates else ""
    good = show_slope(limit.good_up_to, "down")
    if limit.is_open:
        return f"{good}: none found up to there"
    told = answer.ending if takes is None else f"{-round_to(takes, 1, 'up'):+.1f} deg"
    return f"{good}{alternates}: {told}"
