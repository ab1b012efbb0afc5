"""`sidehill demo`: the main job on shipped data."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, SearchEngine, System, Units
from sidehill.files.whole import ready_folder

EXAMPLES = ("sidehill demo --out my-demo", "sidehill demo --quick")


def command(
    folder: Annotated[
        Path,
        typer.Option("--out", metavar="DIR", help="Where everything goes."),
    ] = Path("sidehill-demo"),
    quick: Annotated[
        bool, typer.Option("--quick", help="Six options, limits to 0.5 deg, stills for films.")
    ] = False,
    film: Annotated[bool, typer.Option("--film/--no-film", help="Films of the shown runs.")] = True,
    engine: SearchEngine = "auto",
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """The main job on shipped data: a loaded bucket high and low, spacers, ballast."""
    from sidehill.cli import demo_files, demo_films, demo_report
    from sidehill.cli.demo_run import run  # what runs engines is loaded once it is asked for
    from sidehill.engines import choose

    us = units is System.US
    choose(engine)  # refused before anything is made
    ready_folder(folder)
    demo = run(engine, quick)
    films = demo_films.names(demo) if film else []
    files, out, problem = demo_files.write(folder, demo, films, us=us), console.out(), None
    if not as_json:
        demo_report.tell(out, demo, us=us)
    if film:
        made, problem = demo_films.make(folder, demo)
        files += made
    if as_json:
        console.emit(demo_report.data(demo) | {"files": files}, demo_report.warnings(demo))
    else:
        demo_report.close(out, demo, files)
    if problem is not None:
        raise problem
