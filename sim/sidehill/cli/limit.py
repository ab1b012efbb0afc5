"""`sidehill limit`: what one outfit does at every slope, speed or bump height, and its limits."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import (
    AsJson,
    Changes,
    MachineName,
    ScenarioName,
    SearchEngine,
    System,
    TyreLaw,
    Units,
    with_tyre,
)
from sidehill.cli.outfit import with_outfit
from sidehill.machine.outfit import Outfit
from sidehill.strip.quantity import VARIED

EXAMPLES = (
    'sidehill limit bramble bank-stone --set drive.speed="2 km/h" --out strip.png',
    'sidehill limit bramble bank-plain --high "20 deg" --scan "2 deg"',
    'sidehill limit bramble bank-stone --of bump --feature 1 --scan "50 mm" --json',
)


@with_outfit
def command(
    machine: MachineName,
    scenario: ScenarioName,
    outfit: Outfit,
    of: Annotated[
        str, typer.Option(metavar="QUANTITY", help=f"What is varied: {', '.join(VARIED)}.")
    ] = "slope",
    feature: Annotated[
        int, typer.Option(metavar="N", min=1, help="Which feature's height, where that is varied.")
    ] = 1,
    low: Annotated[str | None, typer.Option(help="Lowest value tried, with its unit.")] = None,
    high: Annotated[str | None, typer.Option(help="Highest value tried, with its unit.")] = None,
    scan: Annotated[
        str | None, typer.Option(help="Step of the scan, with its unit; less goes unseen.")
    ] = None,
    tolerance: Annotated[
        str | None, typer.Option(help="How narrow each change is made, with its unit.")
    ] = None,
    changes: Changes = None,
    tyre: TyreLaw = None,
    output: Annotated[
        Path | None,
        typer.Option("-o", "--out", metavar="FILE", help="A picture, ending in .png or .svg."),
    ] = None,
    engine: SearchEngine = "auto",
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """The strip of one outfit: what it does at every value of a quantity, and the limits.

    Where the ground can tell the two laws of a tyre apart, both are run and the lower limit is
    quoted; --tyre runs one alone.
    """
    from sidehill.cli import job as jobs
    from sidehill.cli import limit_report, limit_run  # what runs engines is loaded once asked for

    given = {"of": of, "low": low, "high": high, "scan": scan, "tolerance": tolerance}
    find = limit_run.read_find(given, feature)
    job = jobs.read_job(machine, scenario, with_tyre(changes, tyre), outfit, engine)
    found = limit_run.run(job, find, engine, output, both=tyre is None)
    if as_json:
        console.emit(limit_report.data(found), job.warnings)
        return
    limit_report.tell(found, us=units is System.US)
