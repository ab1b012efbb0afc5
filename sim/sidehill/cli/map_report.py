"""What was drawn of a sweep, in words and as JSON."""

from collections import Counter
from typing import Any

import pandas as pd
from rich.console import Console

from sidehill.advice.told_study import results_warnings
from sidehill.cli import console
from sidehill.cli.map_run import Found
from sidehill.files.known import plain
from sidehill.files.units import NOT_COMPUTED
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.sweep.measure import pairs, told


def data(found: Found) -> dict[str, Any]:
    """Plain values for JSON."""
    return {
        "results": str(found.results.folder),
        "facts": counts(found.table),
        "disagreements": disagreements(found.table),
        "pictures": [
            {"picture": one.name, "file": str(file), **plain(one.data)}
            for one, file in zip(found.drawn, found.files, strict=True)
        ],
        "notes": list(found.results.notes),
    }


def counts(table: pd.DataFrame) -> dict[str, int]:
    """Cases by their facts, from the worst; what is not known first."""
    seen = Counter(pairs(table))
    order = [f"{s}, {p}" for s in reversed(STABILITY) for p in PROGRESS]
    return {name: seen[name] for name in (NOT_COMPUTED, *order) if seen[name]}


def disagreements(table: pd.DataFrame) -> int:
    """Cases that two engines decide differently."""
    again = table.filter(regex="reference_agrees$")
    return int(again.eq(False).any(axis=1).sum())


def warnings(found: Found) -> list[str]:
    """What a person must be told of the machine, and what not to overlook in the pictures."""
    said = results_warnings(found.results)
    unknown = sum(not facts for facts in told(found.table))
    if unknown:
        said.append(
            f"{unknown:,} of {len(found.table):,} cases are not computed: hatched, never "
            "averaged, and bad for the upper end of a probability"
        )
    apart = disagreements(found.table)
    if apart:
        said.append(f"{apart:,} cases are decided differently by two engines: the worse is drawn")
    return said


def tell(out: Console, found: Found) -> None:
    """Print it."""
    meta = found.results.meta
    place = f"{found.results.machine_words}, {meta['scenario']['title']}"
    out.print(f"{meta['title']}: {place}, engine {meta['asked']['engine']}", style="bold")
    out.print(f"{len(found.table):,} cases; one of each kind, for --trace:")
    names = pairs(found.table)
    for name, count in counts(found.table).items():
        first = found.table["case"][names == name].iloc[0]
        out.print(f"  {count:>7,}  {name}  {first or ''}")
    for one, file in zip(found.drawn, found.files, strict=True):
        for line in one.lines:
            out.print(f"  {line}")
        out.print(f"wrote {file}")
    console.close(out, warnings(found), found.results.notes, ())
