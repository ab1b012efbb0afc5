"""Machine, task and standing answers of the appendix."""

from typing import Any

from sidehill.files.units import show, show_slope
from sidehill.scenario.told import speed_words
from sidehill.sheet.cells import least
from sidehill.sheet.findings import Findings


def facts(found: Findings) -> list[tuple[str, str]]:
    """Names and values of machine and task."""
    study, us = found.study, found.wish.us
    machine, scenario = study.machine, study.scenario
    ground, weighed = scenario.ground, machine.weighed
    height = show(weighed.cg_height, "length", us=us)
    return [
        ("machine", f"{machine.name}: {machine.summary}"),
        ("where its numbers come from", machine.source),
        (
            "weighed",
            f"{show(weighed.mass, 'mass', us=us)} bare, CG {height} up ({weighed.cg_height_from}, "
            f"taken as good to {100 * weighed.cg_height_spread:.0f} %)",
        ),
        ("bank", f"{scenario.title}: {scenario.teaches}"),
        (
            "ground",
            f"side slope {show_slope(ground.slope)}, grade {show_slope(ground.grade)}, "
            f"{ground.downhill} side downhill, friction {ground.friction:g}",
        ),
        ("speed", speed_words(scenario.drive, us)),
    ]


def past(found: Findings, name: str) -> list[str]:
    """What of an option is past a rating, rule or clearance; peaks of runs left out.

    Tyre ratings are for a steady load, so that a peak beyond one is in the table, not here.
    """
    findings = (*found.ranked(name).price.findings, *found.fits[name].findings)
    over = [f for f in findings if f.judgement == "over" and not f.what.startswith("peak")]
    return [f"{finding.item}: {finding.what}" for finding in over]


def pair(found: Findings) -> list[dict[str, Any]]:
    """As delivered and the first in the ranking, each with its lower bound and what it exceeds."""
    names = dict.fromkeys((found.delivered, found.best))
    words = {found.best: "first in the ranking", found.delivered: "as delivered"}
    return [
        {
            "name": name,
            "what": words[name],
            "lift": least(found.standing[name].lift_off),
            "over": least(found.standing[name].overturn),
            "past": past(found, name),
        }
        for name in names
    ]


def standing_rows(found: Findings) -> list[tuple[str, str, str]]:
    """Standing slope, smallest rear spacer, smallest rear box."""
    us = found.wish.us
    return [
        (spacer.measure, spacer.cell(us), box.cell(us)) for spacer, box in found.standing_enough
    ]


def standing_words(found: Findings) -> str:
    """What was wanted, and why reaching it standing is not the end of the matter."""
    return (
        f"Wanted: {show_slope(found.wanted)}, everything else as in “{found.delivered}”. "
        "These are slopes standing still, to compare with: no stone, no speed. What is enough when "
        "driven stands on page one."
    )
