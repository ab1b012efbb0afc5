"""`sidehill replay`: recorded runs as one page that can be turned, scrubbed and slowed down."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console
from sidehill.cli.options import (
    AsJson,
    Changes,
    Chosen,
    EngineName,
    Runs,
    Titles,
    TyreLaw,
    with_tyre,
)

EXAMPLES = (
    'sidehill replay demo --option "bucket high, as delivered" '
    '--option "bucket low, as delivered" -o replay.html',
    "sidehill replay high.parquet low.parquet --title high --title low -o both.html",
    'sidehill replay record.parquet --note "Watch the uphill rear wheel." -o one.html',
)


def command(
    what: Runs,
    file: Annotated[
        Path, typer.Option("-o", "--output", metavar="FILE.html", help="The page.")
    ] = Path("sidehill-replay/replay.html"),
    titles: Titles = None,
    options: Chosen = None,
    changes: Changes = None,
    tyre: TyreLaw = None,
    note: Annotated[
        str | None, typer.Option("--note", help="A sentence that stands beside the pictures.")
    ] = None,
    ghosts: Annotated[
        bool, typer.Option("--ghosts", help="Open with the runs over each other.")
    ] = False,
    engine: EngineName = "auto",
    as_json: AsJson = False,
) -> None:
    """One to four runs on one page, offline: turn it, scrub it, slow it down."""
    from sidehill.cli import replay_run  # what runs engines is loaded once it is asked for

    wish = replay_run.Wish(note, "ghosts" if ghosts else "side")
    asked = with_tyre(changes, tyre)
    data = replay_run.make(what, titles, options, asked, engine, file, wish)
    if as_json:
        console.emit(data, data["warnings"])
        return
    screen = console.out()
    screen.print(", ".join(data["titles"]))
    screen.print(f"wrote {data['file']} ({data['bytes'] / 1e6:.2f} MB); open it in a browser")
    console.close(screen, data["warnings"], (), ())
