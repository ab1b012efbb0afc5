"""What `sidehill sheet` says of a sheet: on the screen, and as JSON."""

from dataclasses import asdict
from math import degrees
from typing import Any

from rich.console import Console

from sidehill.advice.answer import Enough
from sidehill.advice.ranked import Ranked
from sidehill.cli import console
from sidehill.files.known import known_degrees, plain
from sidehill.sheet import trust
from sidehill.sheet.findings import Findings
from sidehill.sheet.first import first, first_data
from sidehill.sheet.make import Sheet


def warnings(made: Sheet) -> list[str]:
    """Those of the machine as delivered; what an option adds stands with it."""
    return list(made.found.apart.warned)


def tell(out: Console, made: Sheet, files: list[str]) -> None:
    """The answer, and where the rest is."""
    found = made.found
    page = first(found)
    out.print(page.bank, style="bold")
    for line in page.answer:
        out.print(line)
    out.print(f"how much is enough for {page.enough_for}:")
    for setting, answers in page.enough:
        told = [f"{words} ({goal})" for words, goal in zip(answers, page.goals, strict=False)]
        out.print(f"  {setting}: {'; '.join(told) if len(told) > 1 else answers[0]}")
    if made.film.note:
        out.print(made.film.note)
    for file in files:
        out.print(f"wrote {file}")
    about = trust.trust(found)
    console.close(out, warnings(made), about["notes"], about["defaults"].split(", "))


def data(found: Findings) -> dict[str, Any]:
    """Plain values for programs, SI; what is not known is None."""
    return {
        "engine": found.wish.engine,
        "key": found.key,
        "slope_deg": degrees(found.study.scenario.ground.slope),
        **first_data(found),
        "options": [_option(option) for option in found.ranking.options],
        "enough_standing": [[_enough(item) for item in pair] for pair in found.standing_enough],
        "peak_loads_slope_deg": found.loads.slope,
        "shown_slope_deg": found.shown.slope,
        "shown": list(found.shown.records),
    }


def _option(option: Ranked) -> dict[str, Any]:
    return {
        "option": option.option,
        "place": option.place,
        "pareto": option.is_pareto,
        "buys": plain(option.buys),
        "gains": plain(option.gains),
        "costs": plain(option.costs),
        "problem": option.problem,
        "price": [asdict(finding) for finding in option.price.findings],
    }


def _enough(item: Enough) -> dict[str, Any]:
    return {
        "item": item.sought.item,
        "measure": item.measure,
        "setting": item.setting,
        "slope_deg": known_degrees(item.slope),
        "words": item.words,
    }
