"""`sidehill weigh`: CG height from scales, level and with the front axle raised."""

from pathlib import Path
from typing import Annotated, Any

import typer

from sidehill.cli import console
from sidehill.cli.options import AsJson, System, Units
from sidehill.cli.weigh_report import Told, tell
from sidehill.files.errors import InputError
from sidehill.files.whole import ready_file, write_file
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.loader import lump
from sidehill.machine.outfit import Outfit
from sidehill.machine.weigh import read_scales
from sidehill.machine.weighed_block import weighed_block

EXAMPLES = (
    'sidehill weigh --level-front "430 kg" --level-rear "560 kg" --raised-front "383 kg" '
    '--tilt "22 deg" --wheelbase "1.62 m" --front-radius "0.30 m" --rear-radius "0.475 m" '
    '--scale-error "0.2 %"',
)
_READING: dict[str, Any] = {"metavar": "VALUE", "rich_help_panel": "Readings"}
_FLAG: dict[str, Any] = {"rich_help_panel": "Readings"}
_LOADER: dict[str, Any] = {"metavar": "VALUE", "rich_help_panel": "Loader"}
_LOADER_FLAG: dict[str, Any] = {"rich_help_panel": "Loader"}
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
    low_cg: Annotated[
        bool, typer.Option(**_FLAG, help="The front was the raised end: the CG is that low.")
    ] = False,
    loader_on: Annotated[
        bool, typer.Option(**_LOADER_FLAG, help="It was on: take the --machine file's off again.")
    ] = False,
    bucket_height: Annotated[
        Text, typer.Option(**_LOADER, help="Its bucket pin's height then; carry if left out.")
    ] = None,
    loader_mass: Annotated[
        Text, typer.Option(**_LOADER, help="Of a loader that was on, to be taken off again.")
    ] = None,
    loader_ahead: Annotated[
        Text, typer.Option(**_LOADER, help="Its CG ahead of the rear axle, level.")
    ] = None,
    loader_height: Annotated[
        Text, typer.Option(**_LOADER, help="Its CG above the ground, level.")
    ] = None,
    machine: Annotated[
        Text,
        typer.Option(
            metavar="MACHINE",
            help="The file it is pasted into: what else is in its \\[weighed] table is kept.",
        ),
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
        "loader_mass": loader_mass,
        "loader_ahead": loader_ahead,
        "loader_height": loader_height,
        "scale_error": scale_error,
        "tilt_error": tilt_error,
        "length_error": length_error,
    }
    values: dict[str, Any] = {name: text for name, text in given.items() if text is not None}
    own = None if machine is None else load_machine(machine)
    if loader_on or bucket_height is not None:
        values |= _own_loader(own, values, bucket_height)
    readings = read_scales(values | ({"low_cg": True} if low_cg else {}), "command line")
    block = weighed_block(readings, own)
    told = Told(readings, block, file, own)
    if file is not None:
        if ready_file(file, ".toml").exists():  # perhaps a machine, hours of somebody's work
            raise InputError(f"{file}: there is such a file already; give a new name")
        write_file(file, block.encode())
    if as_json:
        console.emit(told.data(), told.warnings)
        return
    tell(told, us=units is System.US)


def _own_loader(
    machine: Machine | None, values: dict[str, Any], bucket_height: str | None
) -> dict[str, str]:
    """Mass and place of the machine file's own loader, as readings."""
    if machine is None:
        raise InputError("--loader-on: give the file that has the loader, with --machine")
    if any(name.startswith("loader_") for name in values):
        raise InputError("--loader-on takes mass and place from the machine file; give one of both")
    pose = Outfit(bucket_height=bucket_height or "carry").bucket_height
    mass, ahead, up = lump(machine, pose)
    return {"loader_mass": f"{mass} kg", "loader_ahead": f"{ahead} m", "loader_height": f"{up} m"}
