"""The work of `sidehill sheet`: what was asked for, the sheet, its file."""

from collections.abc import Sequence
from dataclasses import asdict
from math import degrees
from pathlib import Path
from typing import Any, get_args

from rich.console import Console

from sidehill.advice.answer import Enough
from sidehill.advice.ranked import Ranked
from sidehill.cli import console
from sidehill.cli.progress import progress
from sidehill.engines import choose
from sidehill.files.errors import InputError
from sidehill.files.known import known_degrees, plain
from sidehill.files.units import to_si
from sidehill.files.whole import ready_file, ready_folder, write_file
from sidehill.sheet import trust
from sidehill.sheet.findings import Findings
from sidehill.sheet.first import first, first_data
from sidehill.sheet.make import Sheet, make_sheet
from sidehill.sheet.wish import FilmMode, Wish
from sidehill.study.study import load_study


def read_wish(
    file: Path, want: str | None, records: Path | None, quick: bool, film: str, engine: str,
    us: bool,
) -> Wish:  # fmt: skip
    """What the command line asks for, checked before anything is computed.

    Raises:
        InputError: option, value, what is allowed.
        EngineError: the engine is not installed here.
    """
    modes = {mode: mode for mode in get_args(FilmMode)}
    if film not in modes:
        raise InputError(f"--film {film}: allowed: {', '.join(modes)}")
    ready_file(file, ".html")
    return Wish(
        records=ready_folder(records or file.parent / "records"),
        engine=choose(engine, many=True),
        want=None if want is None else _slope(want),
        quick=quick,
        film=modes[film],
        us=us,
    )


def _slope(text: str) -> float:
    try:
        found = to_si(text, "slope")
    except InputError as error:
        raise InputError(f"--want {text}: {error}") from None
    if not 0.0 < degrees(found) < 90.0:
        raise InputError(f"--want {text}: allowed: more than 0 deg, less than 90 deg")
    return found


def run(study: str, file: Path, wish: Wish, changes: Sequence[str] = ()) -> Sheet:
    """The sheet, with its progress told."""
    plan = load_study(study, changes)
    with progress(f"looking at {len(plan.options)} options") as say:
        return make_sheet(plan, file, wish, say)


def write(file: Path, made: Sheet) -> list[str]:
    """Write it; the paths of the sheet, and of the film where that is a file of its own."""
    found = [write_file(file, made.html)]
    if made.film.file is not None:
        found.append(made.film.file)
    return [str(path) for path in found]


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
