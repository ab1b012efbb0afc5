"""What was drawn of a sweep, in words and as JSON."""

from typing import Any

from rich.console import Console

from sidehill.advice.told_study import results_warnings
from sidehill.cli import console
from sidehill.cli.map_run import Found
from sidehill.files.known import plain
from sidehill.files.units import NOT_COMPUTED
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.sweep.tally import Tally


def data(found: Found) -> dict[str, Any]:
    """Plain values for JSON."""
    return {
        "results": str(found.results.folder),
        "facts": counts(found.tally),
        "disagreements": found.tally.apart,
        "pictures": [
            {"picture": one.name, "file": str(file), **plain(one.data)}
            for one, file in zip(found.drawn, found.files, strict=True)
        ],
        "notes": list(found.results.notes),
    }


def counts(tally: Tally) -> dict[str, int]:
    """Cases by their facts, from the worst; what is not known first."""
    order = [f"{s}, {p}" for s in reversed(STABILITY) for p in PROGRESS]
    return {name: tally.facts[name] for name in (NOT_COMPUTED, *order) if tally.facts[name]}


def warnings(found: Found) -> list[str]:
    """What a person must be told of the machine, and what not to overlook in the pictures."""
    said = results_warnings(found.results)
    if found.tally.unknown:
        said.append(
            f"{found.tally.unknown:,} of {found.tally.rows:,} cases are not computed: hatched, "
            "never averaged, and bad for the upper end of a probability"
        )
    if apart := found.tally.apart:
        said.append(f"{apart:,} cases are decided differently by two engines: the worse is drawn")
    return said


def tell(out: Console, found: Found) -> None:
    """Print it."""
    meta = found.results.meta
    place = f"{found.results.machine_words}, {meta['scenario']['title']}"
    out.print(f"{meta['title']}: {place}, engine {meta['asked']['engine']}", style="bold")
    out.print(f"{found.tally.rows:,} cases; one of each kind, for --trace:")
    for name, count in counts(found.tally).items():
        out.print(f"  {count:>7,}  {name}  {found.tally.first[name]}")
    for one, file in zip(found.drawn, found.files, strict=True):
        for line in one.lines:
            out.print(f"  {line}")
        out.print(f"wrote {file}")
    console.close(out, warnings(found), found.results.notes, ())
