"""The work of `sidehill sheet`: what was asked for, the sheet, its file."""

from collections.abc import Sequence
from math import degrees
from pathlib import Path
from typing import get_args

from sidehill.cli.progress import progress
from sidehill.engines import choose
from sidehill.files.errors import InputError
from sidehill.files.units import to_si
from sidehill.files.whole import ready_file, ready_folder, write_file
from sidehill.sheet.make import Sheet, make_sheet
from sidehill.sheet.wish import Place, Wish
from sidehill.study.study import load_study


def read_wish(
    file: Path, want: str | None, records: Path | None, quick: bool, film: str, replay: str,
    tyre: str | None, engine: str, us: bool,
) -> Wish:  # fmt: skip
    """What the command line asks for, checked before anything is computed.

    Raises:
        InputError: option, value, what is allowed.
        EngineError: the engine is not installed here.
    """
    ready_file(file, ".html")
    return Wish(
        records=ready_folder(records or file.parent / "records"),
        engine=choose(engine, many=True),
        want=None if want is None else _slope(want),
        quick=quick,
        film=_place("--film", film),
        replay=_place("--replay", replay),
        tyre=tyre,
        us=us,
    )


def _place(option: str, text: str) -> Place:
    known: dict[str, Place] = {place: place for place in get_args(Place)}
    if text not in known:
        raise InputError(f"{option} {text}: allowed: {', '.join(known)}")
    return known[text]


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
    """Write it; the paths of the sheet, and of film and replay that are files of their own."""
    beside = [path for path in (made.film.file, made.replay.file) if path is not None]
    return [str(path) for path in (write_file(file, made.html), *beside)]
