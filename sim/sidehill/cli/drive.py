"""`sidehill drive`: one run, its record and its pictures."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import (
    AsJson,
    Changes,
    EngineName,
    MachineName,
    ScenarioName,
    System,
    TyreLaw,
    Units,
    with_tyre,
)
from sidehill.cli.outfit import with_outfit
from sidehill.files.whole import ready_folder
from sidehill.machine.outfit import Outfit

EXAMPLES = (
    'sidehill drive bramble bank-stone --bucket-load "250 kg"',
    'sidehill drive bramble bank-plain --set ground.slope="18 deg" --out plain',
    "sidehill drive sorrel bank-rut --replay --out rut",
    "sidehill drive sorrel tilt-table --engine mujoco --json",
)


@with_outfit
def command(
    machine: MachineName,
    scenario: ScenarioName,
    outfit: Outfit,
    changes: Changes = None,
    tyre: TyreLaw = None,
    engine: EngineName = "auto",
    folder: Annotated[
        Path, typer.Option("--out", metavar="DIR", help="Where record and picture go.")
    ] = Path("sidehill-drive"),
    replay: Annotated[
        bool, typer.Option("--replay", help="Write the run as a page to turn and scrub as well.")
    ] = False,
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """One run: what happened, peaks, wheels up, a record and a picture. A tilt table: slopes."""
    from sidehill.cli import drive_report, drive_run
    from sidehill.cli.job import read_job  # what runs engines is loaded once it is asked for

    job = read_job(machine, scenario, with_tyre(changes, tyre), outfit, engine)
    data = job.to_dict() | drive_run.drive(job, ready_folder(folder), replay)
    if as_json:
        console.emit(data, job.warnings)
        return
    drive_report.tell(data, job.case, job.warnings, us=units is System.US)
