"""`sidehill demo`: the main job on shipped data."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, EngineName, System, Units
from sidehill.cli.output import ready_folder

EXAMPLES = ("sidehill demo --out my-demo", "sidehill demo --quick")


def command(
    folder: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Where tables, pictures and records go.")
    ] = Path("sidehill-demo"),
    quick: Annotated[
        bool, typer.Option("--quick", help="Six options, limits to 0.5 deg only.")
    ] = False,
    engine: EngineName = "auto",
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """The main job on shipped data: a loaded bucket high and low, spacers, ballast."""
    from sidehill.cli import demo_files, demo_report
    from sidehill.cli.demo_run import run  # what runs engines is loaded once it is asked for
    from sidehill.engines import choose

    us = units is System.US
    name = choose(engine)
    ready_folder(folder)
    demo = run(name, quick)
    files = demo_files.write(folder, demo, us=us)
    if as_json:
        console.emit(demo_report.data(demo) | {"files": files}, demo_report.warnings(demo))
        return
    out = console.out()
    demo_report.tell(out, demo, us=us)
    for file in files:
        out.print(f"wrote {file}")
    console.close(
        out, demo_report.warnings(demo), demo_report.notes(demo), demo_report.defaults(demo)
    )
