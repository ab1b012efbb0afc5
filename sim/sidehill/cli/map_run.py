"""The work of `sidehill map`: what is missing is run, then the pictures that suit it are drawn."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sidehill.cli import sweep_run
from sidehill.cli.progress import progress
from sidehill.files.errors import InputError
from sidehill.files.whole import ready_file, ready_folder, write_file
from sidehill.map.make import check_option, draw_map
from sidehill.map.plan import Picture, plan
from sidehill.map.subject import Drawn
from sidehill.picture.style import KINDS, Kind
from sidehill.study.study import load_study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.results import Results, load_results
from sidehill.sweep.tally import Tally, tally
from sidehill.sweep.task import ask


@dataclass(frozen=True)
class Wanted:
    """The command line."""

    target: str
    x: str | None
    y: str | None
    of: str | None
    option: str | None
    traces: tuple[str, ...]
    output: Path | None
    engine: str
    yes: bool
    changes: Sequence[str] = ()  # of the study's scenario


@dataclass
class Found:
    """What was drawn, and of what."""

    results: Results
    tally: Tally  # of the options that were asked for
    drawn: list[Drawn]
    files: list[Path]


def run(wanted: Wanted) -> Found:
    """Draw; with a study, run what is missing of it first.

    Raises:
        InputError: something on the command line cannot be used; as far as can be told, before
            anything is run.
    """
    is_folder = Path(wanted.target).is_dir()
    if is_folder and wanted.changes:
        raise InputError("--tyre is for a study; the results of a folder are what they are")
    results = load_results(wanted.target) if is_folder else None
    meta = _announced(wanted) if results is None else results.meta
    pictures = plan(meta, wanted.x, wanted.y, wanted.of, wanted.traces)
    check_option(meta, wanted.option)
    place, kind = _place(wanted.output, pictures)
    if results is None:
        results = sweep_run.run(_sweep(wanted)).results
    asked = (wanted.x, wanted.y, wanted.of)
    with progress("drawing") as say:
        drawn = draw_map(
            results, *asked, option=wanted.option, traces=wanted.traces, kind=kind, say=say
        )
    folder = results.folder if place is None else place
    files = []
    for one in drawn:
        picture = folder if folder.suffix in KINDS else folder / f"{one.name}.{kind}"
        files.append(write_file(picture, one.content))
        for name, content in one.csv(picture.stem).items():
            write_file(picture.with_name(name), content)
    return Found(results, tally(results, wanted.option), drawn, files)


def _announced(wanted: Wanted) -> dict[str, Any]:
    """What the results of a study will say of themselves."""
    study = load_study(wanted.target, wanted.changes)
    return Agenda(study, ask(wanted.engine)).meta


def _sweep(wanted: Wanted) -> sweep_run.Wanted:
    return sweep_run.Wanted(
        wanted.target, None, wanted.engine, None, None, wanted.yes, wanted.changes
    )


def _place(output: Path | None, pictures: list[Picture]) -> tuple[Path | None, Kind]:
    """Where pictures go, made sure of, and their kind."""
    if output is None:
        return None, "png"
    if not output.suffix or output.is_dir():
        return ready_folder(output), "png"
    if output.suffix not in KINDS:
        raise InputError(f"{output}: give a folder, or a name ending in {' or '.join(KINDS)}")
    if len(pictures) > 1:
        names = ", ".join(picture.name for picture in pictures)
        raise InputError(f"{output}: there are {len(pictures)} pictures ({names}); give a folder")
    return ready_file(output, output.suffix), KINDS[output.suffix]
