"""`sidehill crosscheck`: the assumption ladder of a machine, and the published values."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.fault import INTERNAL
from sidehill.cli.options import AsJson, ManyEngine, System, Units
from sidehill.cli.outfit import with_outfit
from sidehill.files.errors import InputError
from sidehill.files.whole import ready_file
from sidehill.machine.outfit import Outfit

EXAMPLES = (
    'sidehill crosscheck bramble --bucket-load "250 kg" --bucket-height full --page bramble.html',
    "sidehill crosscheck sorrel --statics-only --json",
    "sidehill crosscheck --published --page published.html",
    "sidehill crosscheck --convergence --page convergence.html",
)


@with_outfit
def command(
    outfit: Outfit,
    machine: Annotated[
        str | None,
        typer.Argument(
            metavar="[MACHINE]", help="A shipped machine, or the path of your own .toml file."
        ),
    ] = None,
    published: Annotated[
        bool, typer.Option("--published", help="Every published value; exit code 1 on a fail.")
    ] = False,
    scenario: Annotated[
        str, typer.Option(metavar="SCENARIO", help="The course whose critical slope is asked.")
    ] = "bank-stone",
    convergence: Annotated[
        bool,
        typer.Option(
            "--convergence", help="How far peaks still move when step and tyre are made finer."
        ),
    ] = False,
    cases: Annotated[
        int, typer.Option(metavar="N", min=2, max=2000, help="Random cases of --convergence.")
    ] = 200,
    statics_only: Annotated[
        bool, typer.Option("--statics-only", help="Nothing is simulated: seconds, not a minute.")
    ] = False,
    engine: ManyEngine = "auto",
    page: Annotated[
        Path | None, typer.Option(metavar="FILE.html", help="All of it as one HTML page.")
    ] = None,
    readme: Annotated[
        Path | None,
        typer.Option(metavar="FILE.md", help="Refresh the table between its two marks."),
    ] = None,
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """The answer under each assumption and what the next one changes; the published values."""
    from sidehill.cli import crosscheck_report, crosscheck_run  # what runs engines, when asked for

    if machine is None and not (published or convergence):
        raise InputError(
            "crosscheck: name a machine, or ask for --published or --convergence, or all"
        )
    if readme is not None:
        crosscheck_run.check_readme(readme, published)
    if page is not None:
        ready_file(page, ".html")
    us = units is System.US
    found = crosscheck_run.Found(
        crosscheck_run.climb(machine, outfit, scenario, engine, statics_only) if machine else None,
        crosscheck_run.published() if published else None,
        crosscheck_run.convergence(cases) if convergence else None,
    )
    files = crosscheck_run.write(found, page, readme, us=us)
    if as_json:
        console.emit(found.to_dict() | {"files": files}, found.warnings)
    else:
        crosscheck_report.tell(found, files, us=us)
    if not found.passed:
        raise typer.Exit(INTERNAL)
