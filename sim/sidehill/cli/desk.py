"""`sidehill desk`: the whole tool as a page on this computer."""

from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console

EXAMPLES = ("sidehill desk", "sidehill desk --folder my-customer --no-open")


def command(
    folder: Annotated[
        Path,
        typer.Option(
            metavar="DIR",
            help="Where the form and what is made of it are kept; nothing else of yours is read.",
        ),
    ] = Path("sidehill-desk"),
    port: Annotated[
        int, typer.Option(metavar="N", min=0, max=65535, help="Its port; 0 for one that is free.")
    ] = 0,
    open_: Annotated[
        bool, typer.Option("--open/--no-open", help="Open it in the browser at once.")
    ] = True,
) -> None:
    """The same tool as a page on this computer: own tractor, bank, options, sheet, film."""
    import webbrowser

    from sidehill.desk.serve import serve  # what runs engines is loaded once it is asked for

    def ready(address: str) -> None:
        screen = console.out()
        screen.print(f"The desk: {address}", soft_wrap=True)
        screen.print("It is for this computer alone, and keeps what you type in "
                     f"{folder}. Stop it with Ctrl-C.", soft_wrap=True)  # fmt: skip
        console.close(screen, (), (), ())
        if open_:
            webbrowser.open(address)

    serve(folder, port, ready)
