"""`sidehill tip`: the statics of a machine standing still."""

import csv
from enum import StrEnum
from io import StringIO
from pathlib import Path
from typing import Annotated, Any

import typer

from sidehill.advice.warnings import site_of, warnings
from sidehill.cli import console
from sidehill.cli.options import AsJson, MachineName, System, Units
from sidehill.cli.outfit import with_outfit
from sidehill.files.spec import build, defaults_used
from sidehill.files.toml import Document
from sidehill.files.whole import ready_file, write_file
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.ground import Ground
from sidehill.statics.assembly import from_fitted
from sidehill.statics.polar import round_table
from sidehill.statics.report import tip

EXAMPLES = (
    'sidehill tip bramble --bucket-load "250 kg" --slope "14 deg"',
    "sidehill tip sorrel --tyres compliant --json",
    "sidehill tip bramble --picture bramble-tip.png --out bramble-tip.csv",
)


class Tyres(StrEnum):
    """What the tyres are taken to be."""

    RIGID = "rigid"
    COMPLIANT = "compliant"


class Side(StrEnum):
    """Which side of the machine is downhill."""

    RIGHT = "right"
    LEFT = "left"


@with_outfit
def command(
    machine: MachineName,
    outfit: Outfit,
    slope: Annotated[str, typer.Option(help="Side slope it stands on: deg, % or 1:4.")] = "0 deg",
    grade: Annotated[str, typer.Option(help="Along its heading, nose up positive.")] = "0 deg",
    friction: Annotated[str, typer.Option(help="Tyre on ground, a ratio.")] = "0.7",
    downhill: Annotated[Side, typer.Option(help="The side that is downhill.")] = Side.RIGHT,
    tyres: Annotated[
        Tyres, typer.Option(help="rigid: closed form; compliant: the simulation's own tyres.")
    ] = Tyres.RIGID,
    picture: Annotated[
        Path | None, typer.Option(metavar="FILE.png", help="Lift-off all round, as a picture.")
    ] = None,
    table: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE.csv", help="Lift-off all round, as a table."),
    ] = None,
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """Statics: wheel loads, lift-off, second-stage and overturn slope, energy to tip."""
    given = {"slope": slope, "grade": grade, "friction": friction, "downhill": downhill.value}
    ground = build(Ground, Document("command line", given))
    loaded = load_machine(machine)
    fitted = fit(loaded, outfit, ground.downhill)
    report = tip(fitted, ground.slope, ground.grade, ground.friction, ground.downhill)
    if picture is not None:
        ready_file(picture, ".png")
    if table is not None:
        ready_file(table, ".csv")
    data: dict[str, Any] = report.to_dict()
    if tyres is Tyres.COMPLIANT:
        from sidehill.cli.compliant import on_compliant_tyres
        from sidehill.cli.progress import progress

        with progress("resting it on its tyres"):
            data = on_compliant_tyres(data, loaded, outfit, ground)
    if picture is not None:
        from sidehill.picture.polar import polar_picture

        write_file(picture, polar_picture(fitted))
    all_round = round_table(from_fitted(fitted))
    if table is not None:
        write_file(table, _csv(all_round))
    data |= {"all_round": all_round, "table": table and str(table)}
    data |= {"machine": loaded.name, "tyres": tyres.value, "picture": picture and str(picture)}
    data["notes"] = [note for note in data["notes"] if note not in fitted.warnings]
    data["defaults"] = defaults_used(loaded, outfit)
    told = warnings(loaded, outfit, site_of(ground))
    if as_json:
        console.emit(data, told)
        return
    from sidehill.cli import tip_report  # with the words of a run

    tip_report.tell(data, ground, told, us=units is System.US)


def _csv(rows: list[dict[str, Any]]) -> bytes:
    """The rows as CSV, a missing value as an empty field."""
    text = StringIO()
    writer = csv.DictWriter(text, rows[0], lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue().encode()
