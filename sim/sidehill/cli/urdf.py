"""`sidehill urdf`: the machine as a URDF file, for other tools."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.advice.site import Site
from sidehill.advice.warnings import warnings
from sidehill.cli import console
from sidehill.cli.options import AsJson, MachineName
from sidehill.cli.outfit import with_outfit
from sidehill.files.errors import InputError
from sidehill.files.units import show
from sidehill.files.whole import ready_file, write_file
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import build_linkage
from sidehill.machine.outfit import Outfit

EXAMPLES = ('sidehill urdf bramble --rear-spacer "76 mm" -o bramble.urdf', "sidehill urdf bramble")


@with_outfit
def command(
    machine: MachineName,
    outfit: Outfit,
    file: Annotated[
        Path | None, typer.Option("-o", "--output", metavar="FILE", help="Else standard output.")
    ] = None,
    collisions: Annotated[
        bool, typer.Option("--collisions", help="With plain shapes to collide by.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """The generated URDF: true masses and inertias, valid for other tools."""
    from sidehill.urdf import generate

    if as_json and file is None:
        raise InputError("--json: the URDF itself goes to standard output; give it a file with -o")
    loaded = load_machine(machine)
    fitted, told = fit(loaded, outfit), warnings(loaded, outfit, Site())
    text = generate(fitted, build_linkage(fitted), collisions=collisions)
    if file is None:
        print(text, end="")
        console.warn(told)
        return
    write_file(ready_file(file, ".urdf"), text.encode("ascii"))
    if as_json:
        data = {"file": str(file), "mass_kg": fitted.mass, "cg_m": fitted.cg.tolist()}
        console.emit(data | {"notes": list(fitted.notes)}, told)
        return
    out = console.out()
    out.print(f"{file}: {fitted.machine.name}, {show(fitted.mass, 'mass')}")
    console.close(out, told, fitted.notes, ())
