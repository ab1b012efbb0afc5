"""`sidehill weigh`: CG height from scales, level and with the front axle raised."""

from pathlib import Path
from typing import Annotated, Any

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, System, Units
from sidehill.files.errors import InputError
from sidehill.files.spec import defaults_used
from sidehill.files.units import show
from sidehill.files.whole import ready_file, write_file
from sidehill.machine.weigh import Readings, raised_scale_height, read_scales, weighed_block

EXAMPLES = (
    'sidehill weigh --level-front "430 kg" --level-rear "560 kg" --raised-front "383 kg" '
    '--tilt "22 deg" --wheelbase "1.62 m" --front-radius "0.30 m" --rear-radius "0.475 m" '
    '--scale-error "0.2 %"',
)
_HOW = (
    "wheels rolled free: brakes off, out of gear, chocks clear of the tyres, so that each axle was "
    "held straight up through its centre",
    "chock the load, not the wheels, and stay out from under a raised tractor",
)
_READING: dict[str, Any] = {"metavar": "VALUE", "rich_help_panel": "Readings"}
_ERROR: dict[str, Any] = {"metavar": "VALUE", "rich_help_panel": "Errors"}
Text = str | None


def command(
    level_front: Annotated[
        Text, typer.Option(**_READING, help="Under the front wheels, level.")
    ] = None,
    level_rear: Annotated[
        Text, typer.Option(**_READING, help="Under the rear wheels, level.")
    ] = None,
    raised_front: Annotated[
        Text, typer.Option(**_READING, help="Under the front wheels, held up.")
    ] = None,
    tilt: Annotated[Text, typer.Option(**_READING, help="Of the chassis then, from level.")] = None,
    wheelbase: Annotated[Text, typer.Option(**_READING, help="Between the axle centres.")] = None,
    front_radius: Annotated[
        Text, typer.Option(**_READING, help="Axle centre to ground, standing.")
    ] = None,
    rear_radius: Annotated[
        Text, typer.Option(**_READING, help="Axle centre to ground, standing.")
    ] = None,
    scale_error: Annotated[
        Text, typer.Option(**_ERROR, help="Of each scale reading; 1 % if left out.")
    ] = None,
    tilt_error: Annotated[
        Text, typer.Option(**_ERROR, help="Of the tilt; 0.2 deg if left out.")
    ] = None,
    length_error: Annotated[
        Text, typer.Option(**_ERROR, help="Of each length; 5 mm if left out.")
    ] = None,
    file: Annotated[
        Path | None,
        typer.Option(
            "-o", "--output", metavar="FILE.toml", help="The \\[weighed] block, as a file."
        ),
    ] = None,
    as_json: AsJson = False,
    units: Units = System.METRIC,
) -> None:
    """CG height by the lifting method, its error, and the block for a machine file."""
    given = {
        "level_front": level_front,
        "level_rear": level_rear,
        "raised_front": raised_front,
        "tilt": tilt,
        "wheelbase": wheelbase,
        "front_radius": front_radius,
        "rear_radius": rear_radius,
        "scale_error": scale_error,
        "tilt_error": tilt_error,
        "length_error": length_error,
    }
    values = {name: text for name, text in given.items() if text is not None}
    readings = read_scales(values, "command line")
    block = weighed_block(readings)
    if file is not None:
        if ready_file(file, ".toml").exists():  # perhaps a machine, hours of somebody's work
            raise InputError(f"{file}: there is such a file already; give a new name")
        write_file(file, block.encode())
    if as_json:
        console.emit(_data(readings, block, file))
        return
    _tell(readings, block, file, us=units is System.US)


def _data(readings: Readings, block: str, file: Path | None) -> dict[str, object]:
    found = raised_scale_height(readings)
    return {
        "mass_kg": readings.mass,
        "cg_height_m": found.height,
        "cg_height_error_m": found.error,
        "shares_m": dict(found.shares),
        "largest": found.largest,
        "weighed_block": block,
        "file": file and str(file),
        "notes": list(_HOW),
        "defaults": list(defaults_used(readings)),
    }


def _tell(readings: Readings, block: str, file: Path | None, *, us: bool) -> None:
    out, found = console.out(), raised_scale_height(readings)
    height = show(found.height, "length", us=us, rounding="up")
    error = show(found.error, "length", us=us, rounding="up")
    out.print(f"CG height {height}, one standard error {error}", style="bold")
    shares = sorted(found.shares.items(), key=lambda item: -item[1])
    told = {name: show(size, "length", us=us, rounding="up") for name, size in shares}
    console.lines(out, told)
    out.print()
    out.print(block)
    if file is not None:
        out.print(f"wrote {file}")
    console.close(out, (), _HOW, defaults_used(readings))
