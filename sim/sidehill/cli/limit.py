"""`sidehill limit`: the slope, speed or bump height at which something happens."""

from enum import StrEnum
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

EXAMPLES = (
    'sidehill limit bramble bank-plain --until lift --high "40 deg"',
    "sidehill limit bramble bank-stone --of bump --until overturn --json",
)


class Of(StrEnum):
    """What a limit is looked for in."""

    SLOPE = "slope"
    SPEED = "speed"
    BUMP = "bump"


class Until(StrEnum):
    """The event that ends what is good."""

    LIFT = "lift"
    STOP = "stop"
    OVERTURN = "overturn"


@with_outfit
def command(
    machine: MachineName,
    scenario: ScenarioName,
    outfit: Outfit,
    of: Annotated[Of, typer.Option(help="What is varied.")] = Of.SLOPE,
    until: Annotated[Until, typer.Option(help="The event that is looked for.")] = Until.LIFT,
    low: Annotated[str | None, typer.Option(help="Lowest value tried, with its unit.")] = None,
    high: Annotated[str | None, typer.Option(help="Highest value tried, with its unit.")] = None,
    tolerance: Annotated[
        str | None, typer.Option(help="How narrow the answer must be, with its unit.")
    ] = None,
    changes: Changes = None,
    tyre: TyreLaw = None,
    engine: SearchEngine = "auto",
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """The highest value that is still good, by search; says so where there is no threshold."""
    from sidehill.cli import job as jobs
    from sidehill.cli import limit_report  # what runs engines is loaded once it is asked for

    given = {"of": of.value, "until": until.value, "low": low, "high": high, "tolerance": tolerance}
    find = limit_report.read_find(given)
    job = jobs.read_job(machine, scenario, with_tyre(changes, tyre), outfit, engine)
    found = limit_report.search(job, find, engine)
    if as_json:
        console.emit(job.to_dict() | found.to_dict(), job.warnings)
        return
    limit_report.tell(job, found, us=units is System.US)
