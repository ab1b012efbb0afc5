"""`sidehill sweep`: many cases of a study, gone on with where it was left."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, SearchEngine, TyreLaw, with_tyre

EXAMPLES = (
    "sidehill sweep spacers-and-ballast --out widths",
    "sidehill sweep my-study.toml --workers 4 --engine mujoco",
    "sidehill sweep my-study.toml --dask tcp://head-node:8786 --yes",
)


def command(
    study: Annotated[
        str, typer.Argument(metavar="STUDY", help="A shipped study, or the path of your own .toml.")
    ],
    workers: Annotated[
        int | None, typer.Option(min=1, max=1024, help="Processes; as many as cores if left out.")
    ] = None,
    dask: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="Run on this dask scheduler's workers.")
    ] = None,
    folder: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="Where results go; sidehill-STUDY if left out."),
    ] = None,
    known: Annotated[
        list[Path] | None,
        typer.Option(
            "--from",
            metavar="DIR",
            help="Take from this sweep's results the cases that are in it; may be repeated.",
        ),
    ] = None,
    tyre: TyreLaw = None,
    engine: SearchEngine = "auto",
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask before a long sweep.")] = False,
    as_json: AsJson = False,
) -> None:
    """Every case of a study: one table, one row a case. Give it again to go on after a stop.

    A study that was changed goes on from the cases that it has in common with what is there.
    """
    from sidehill.cli import sweep_report, sweep_run  # what runs engines is loaded once asked for

    changes = with_tyre(None, tyre)
    wanted = sweep_run.Wanted(study, folder, engine, workers, dask, yes, changes, known or ())
    found = sweep_run.run(wanted)
    if as_json:
        console.emit(sweep_report.data(found), sweep_report.warnings(found))
        return
    sweep_report.tell(console.out(), found)
