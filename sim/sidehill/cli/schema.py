"""`sidehill schema`: what an editor needs to complete and check files."""

import json
from pathlib import Path
from typing import Annotated

import typer

from sidehill.cli import console

EXAMPLES = (
    "sidehill schema scenario",
    "sidehill schema machine -o machine.schema.json",
)


def command(
    kind: Annotated[
        str, typer.Argument(metavar="KIND", help="Kind of file: machine, scenario or study.")
    ],
    output: Annotated[
        Path | None, typer.Option("-o", "--output", metavar="FILE", help="A name ending in .json.")
    ] = None,
) -> None:
    """The JSON Schema of a kind of file, which a first line `#:schema FILE` names to an editor."""
    from sidehill.files.whole import ready_file, write_file
    from sidehill.study.schema import json_schema  # loaded once asked for

    text = json.dumps(json_schema(kind), indent=2) + "\n"
    if output is None:
        typer.echo(text, nl=False)
        return
    write_file(ready_file(output, ".json"), text.encode())
    console.out().print(f'wrote {output}; write "#:schema {output.name}" first in a file beside it')
