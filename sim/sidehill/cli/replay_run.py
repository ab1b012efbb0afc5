"""The work of `sidehill replay`: records found or made, then written as a page."""

import shlex
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sidehill.advice.told import records_warnings
from sidehill.cli.film_run import gather
from sidehill.cli.progress import progress
from sidehill.files.whole import ready_file
from sidehill.replay import write_replay
from sidehill.replay.make import ENDING, Layout


@dataclass(frozen=True)
class Wish:
    """How the page is to be."""

    note: str | None
    layout: Layout


def make(
    what: Sequence[str], titles: Sequence[str] | None, options: Sequence[str] | None,
    changes: Sequence[str] | None, engine: str, file: Path, wish: Wish,
) -> dict[str, Any]:  # fmt: skip
    """Write the page; what came of it, plain values.

    Raises:
        SidehillError: what cannot be read, driven, shown or written.
    """
    ready_file(file, ENDING)
    records, names = gather(what, titles, options, changes, engine, file.parent)
    told = command_line(what, titles, options, changes, engine, file, wish)
    with progress(f"writing {file.name}"):
        write_replay(file, records, names, note=wish.note, layout=wish.layout, command=told)
    return {
        "file": str(file),
        "bytes": file.stat().st_size,
        "titles": names,
        "cases": [record.meta["key"] for record in records],
        "warnings": records_warnings([record.meta["case"] for record in records], names),
    }


def command_line(
    what: Sequence[str], titles: Sequence[str] | None, options: Sequence[str] | None,
    changes: Sequence[str] | None, engine: str, file: Path, wish: Wish,
) -> str:  # fmt: skip
    """What makes the same page again."""
    words = ["sidehill", "replay", *what, "-o", file.name]
    for option, values in (("--title", titles), ("--option", options), ("--set", changes)):
        for value in values or ():
            words += [option, value]
    words += ["--note", wish.note] if wish.note else []
    words += ["--ghosts"] if wish.layout == "ghosts" else []
    words += [] if engine == "auto" else ["--engine", engine]
    return shlex.join(words)
