"""`sidehill picture`: a scenario from above, from the side and from behind."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, Changes, ScenarioName, System, Units
from sidehill.cli.outfit import with_outfit
from sidehill.machine.outfit import Outfit

EXAMPLES = (
    "sidehill picture bank-stone",
    'sidehill picture turn-uphill --machine sorrel --rear-spacer "76 mm" -o turn.svg',
    'sidehill picture bank-rough --set ground.seed=7 --set ground.slope="14 deg" --json',
)


@with_outfit
def command(
    scenario: ScenarioName,
    outfit: Outfit,
    machine: Annotated[
        str,
        typer.Option(
            "--machine",
            metavar="MACHINE",
            help="Whose wheels the features lie under: shipped, or the path of a .toml file.",
        ),
    ] = "bramble",
    changes: Changes = None,
    file: Annotated[
        Path | None,
        typer.Option(
            "-o",
            "--output",
            metavar="FILE",
            help="Ends in .png or .svg; else SCENARIO.png in sidehill-picture/.",
        ),
    ] = None,
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """A scenario drawn: course, features and heights, slope; nothing is simulated."""
    # what compiles kernels is loaded once it is asked for
    from sidehill.cli import picture_report, picture_run

    drawn = picture_run.run(scenario, machine, changes, outfit, file, units is System.US)
    if as_json:
        console.emit(picture_report.data(drawn), drawn.warnings)
        return
    picture_report.tell(console.out(), drawn)
