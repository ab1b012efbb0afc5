"""The question, and the answer in a few sentences."""

from math import degrees
from typing import Any

from sidehill.files.units import show, show_slope
from sidehill.sheet.cells import UNCHECKED, least
from sidehill.sheet.findings import Findings


def question(found: Findings) -> str:
    """What is asked, in words."""
    study = found.study
    count = len(study.options)
    ways = f"Of {count} ways to fit it, which" if count > 1 else "Fitted like this, what does it"
    verb = "buys most" if count > 1 else "reach"
    return (
        f"{study.machine.name} is to work on “{study.scenario.title}”. {ways} {verb}, what does it "
        f"cost, and how much is enough for a side slope of {show_slope(found.wanted)}?"
    )


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
        ("speed", show(scenario.drive.speed, "speed", us=us)),
    ]


def answer(found: Findings) -> list[str]:
    """The headline: cheap helps first where they beat spacers; then driven; then what is left."""
    return [*found.ranking.headline, *found.driven_headline, *_left_out(found), _within(found)]


def _left_out(found: Findings) -> list[str]:
    told = []
    for item, stand in found.left_out:
        cell = least(stand.lift_off)
        told.append(
            f"Not among the options: {item.words}. Standing, it lifts a wheel at no less than "
            f"{cell.text} {cell.small}."
        )
    return told


def past(found: Findings, name: str) -> list[str]:
    """What of an option is past a rating, rule or clearance; peaks of runs left out.

    Tyre ratings are for a steady load, so that a peak beyond one is in the table, not here.
    """
    option = next(o for o in found.ranking.options if o.option == name)
    findings = (*option.price.findings, *found.fits[name].findings)
    over = [f for f in findings if f.verdict == "over" and not f.what.startswith("peak")]
    return [f"{finding.item}: {finding.what}" for finding in over]


def _within(found: Findings) -> str:
    """The best placed option that is past nothing, or that there is none."""
    for option in found.ranking.options:
        if option.place is not None and not past(found, option.option):
            findings = option.price.findings
            unchecked = sum(f.verdict == UNCHECKED and f.as_delivered is None for f in findings)
            but = f"; {unchecked} could not be checked" if unchecked else ""
            return (
                f"Best placed of those past no limit that was checked: “{option.option}” "
                f"(place {option.place}{but})."
            )
    return "Every option is past some rating, rule or clearance that was checked: see below."


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


def enough_rows(found: Findings) -> list[tuple[str, str, str]]:
    """Measure, smallest rear spacer, smallest rear box."""
    us = found.wish.us
    return [(spacer.measure, spacer.cell(us), box.cell(us)) for spacer, box in found.enough]


def enough_words(found: Findings) -> str:
    """What was wanted, and why reaching it is not the end of the matter."""
    own = show_slope(found.study.scenario.ground.slope)
    wanted = show_slope(found.wanted)
    is_own = found.wish.want is None
    asked = f"{wanted}, as asked for (the scenario's own side slope is {own})"
    option = next(o for o in found.ranking.options if o.option == found.delivered)
    lifts = degrees(found.wanted) > option.buys["lift_limit_deg"]  # False where it is not known
    return (
        f"Wanted: {f'{own}, the scenario’s side slope' if is_own else asked}. "
        f"Everything else stays as in “{found.delivered}”. A machine that only just reaches a "
        "bank's own slope is at its limit on it: want more than the bank."
        + (" Driven over this scenario it lifts a wheel below that already." if lifts else "")
    )
