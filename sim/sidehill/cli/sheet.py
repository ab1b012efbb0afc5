"""`sidehill sheet`: a study's decision sheet, one self-contained HTML file."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, System, TyreLaw, Units, with_tyre

EXAMPLES = (
    "sidehill sheet demo -o demo.html",
    'sidehill sheet demo -o demo.html --want "15 deg" --film link --units us',
    "sidehill sheet demo -o quick.html --quick --film none --replay link --json",
)


def command(
    study: Annotated[
        str,
        typer.Argument(metavar="STUDY", help="A shipped study, or the path of your own .toml."),
    ],
    file: Annotated[
        Path,
        typer.Option("-o", "--output", metavar="FILE.html", help="The sheet."),
    ],
    want: Annotated[
        str | None,
        typer.Option(
            metavar="SLOPE", help='What "enough" has to reach; else the scenario\'s own slope.'
        ),
    ] = None,
    records: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Runs that are kept; else records/ beside the sheet."),
    ] = None,
    quick: Annotated[
        bool,
        typer.Option("--quick", help="Coarser strips, no spread by simulation, a small film."),
    ] = False,
    film: Annotated[
        str,
        typer.Option(
            "--film", help="embed (up to 6 MB, a larger one is linked), link (beside it) or none."
        ),
    ] = "embed",
    replay: Annotated[
        str,
        typer.Option(
            "--replay", help="The same runs, to be turned and slowed down: embed, link or none."
        ),
    ] = "embed",
    tyre: TyreLaw = None,
    engine: Annotated[
        str, typer.Option("--engine", help="auto, compiled, pybullet or mujoco; auto: compiled.")
    ] = "auto",
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """What each option of a study buys and costs, on one page to print, send or show."""
    from sidehill.cli import (  # what runs engines is loaded once it is asked for
        sheet_report,
        sheet_run,
    )

    us = units is System.US
    law = tyre and tyre.value
    wish = sheet_run.read_wish(file, want, records, quick, film, replay, law, engine, us)
    made = sheet_run.run(study, file, wish, with_tyre(None, tyre))
    files = sheet_run.write(file, made)
    if as_json:
        console.emit(sheet_report.data(made.found) | {"files": files}, sheet_report.warnings(made))
        return
    sheet_report.tell(console.out(), made, files)
