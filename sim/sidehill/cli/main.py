"""The `sidehill` command: its list of commands, and nothing else."""

import os
from importlib import metadata
from typing import Annotated

import typer

from sidehill.cli import (
    crosscheck,
    demo,
    desk,
    drive,
    film,
    limit,
    picture,
    replay,
    schema,
    sheet,
    sweep,
    tip,
    urdf,
    weigh,
)
from sidehill.cli import list as list_
from sidehill.cli import map as map_
from sidehill.cli.fault import guarded
from sidehill.cli.stop import heeded_stops

# modules, in the order of the help
COMMANDS = (
    list_,
    weigh,
    tip,
    urdf,
    picture,
    drive,
    limit,
    sweep,
    map_,
    crosscheck,
    film,
    replay,
    sheet,
    demo,
    desk,
    schema,
)

app = typer.Typer(
    help="Shows whether a compact tractor stays on its wheels on a side slope, and what each "
    "change to it buys and costs. A model compares; it does not permit.",
    no_args_is_help=True,
    invoke_without_command=True,
    pretty_exceptions_enable=False,
    rich_markup_mode="rich",
    context_settings={"help_option_names": ["-h", "--help"]},
)

for module in COMMANDS:
    app.command(
        module.__name__.rpartition(".")[2],
        epilog="\n\n".join(("Examples:", *module.EXAMPLES)),
    )(guarded(module.command))


@app.callback()
def about(
    version: Annotated[
        bool, typer.Option("--version", help="Print the version and leave.", is_eager=True)
    ] = False,
) -> None:
    """What holds for every command."""
    if version:
        typer.echo(f"sidehill {metadata.version('sidehill')}")
        raise typer.Exit


def main() -> None:
    """Entry point of the installed command."""
    # mujoco draws nothing here, and its search for a window starts processes that a stop cuts off
    os.environ.setdefault("MUJOCO_GL", "disable")
    with heeded_stops():
        app()


if __name__ == "__main__":
    main()
