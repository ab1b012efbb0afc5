"""What a sheet says, in words and as JSON."""

from dataclasses import asdict
from math import degrees
from typing import Any

from rich.console import Console

from sidehill.advice.answer import Enough
from sidehill.advice.ranked import Ranked
from sidehill.cli import console
from sidehill.files.known import known_degrees, plain
from sidehill.sheet import answers, trust
from sidehill.sheet.findings import Findings
from sidehill.sheet.make import Sheet


def warnings(made: Sheet) -> list[str]:
    """Those of the machine in its outfits."""
    return trust.warnings(made.found)


def tell(out: Console, made: Sheet, files: list[str]) -> None:
    """The answer, and where the rest is."""
    out.print(answers.question(made.found), style="bold")
    for line in answers.answer(made.found):
        out.print(line)
    for spacer, box in made.found.enough:
        out.print(f"{spacer.words}; {box.words}")
    if made.film.note:
        out.print(made.film.note)
    for file in files:
        out.print(f"wrote {file}")
    about = trust.trust(made.found)
    console.close(out, warnings(made), about["notes"], about["defaults"].split(", "))


def data(found: Findings) -> dict[str, Any]:
    """Plain values for programs, SI; what is not known is None."""
    return {
        "engine": found.wish.engine,
        "key": found.key,
        "wanted_slope_deg": degrees(found.wanted),
        "headline": answers.answer(found),
        "options": [_option(option) for option in found.ranking.options],
        "enough": [[_enough(item) for item in pair] for pair in found.enough],
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
