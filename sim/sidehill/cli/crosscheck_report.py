"""What `sidehill crosscheck` found, for people."""

from typing import Any

from rich.console import Console
from rich.table import Table

from sidehill.cli import console
from sidehill.cli.crosscheck_run import Found, Published
from sidehill.crosscheck.convergence_words import convergence_words
from sidehill.crosscheck.ladder import Ladder
from sidehill.crosscheck.ladder_words import ladder_words
from sidehill.crosscheck.published_words import SUMMARY_HEADINGS, WORTH, about, row, summary


def tell(found: Found, files: list[str], *, us: bool) -> None:
    """Print it."""
    out = console.out()
    if found.ladder is not None:
        _tell_ladder(out, found.ladder, us)
    if found.published is not None:
        _tell_published(out, found.published)
    if found.convergence is not None:
        _tell_convergence(out, convergence_words(found.convergence))
    for file in files:
        out.print(f"wrote {file}")
    console.close(out, found.warnings, found.notes, found.defaults)


def _tell_ladder(out: Console, ladder: Ladder, us: bool) -> None:
    words = ladder_words(ladder, us)
    out.print(f"{words['about']} At least [best estimate]:", style="bold")
    for line in words["intervals"]:
        out.print(f"  {line['quantity']}: {_told(line)}")
    rungs = Table("rung", "lift-off", "second stage", "overturn")
    for rung in words["rungs"]:
        cells = [f"{cell['value']}\n{cell['change']}".strip() for cell in rung["cells"]]
        rungs.add_row(rung["name"], *cells)
    out.print(rungs)
    for rung in words["rungs"]:
        if rung["missing"]:
            out.print(f"  {rung['name']}: {rung['missing']}")
    for line in words["remainder"]:
        out.print(line)
    stones = words["stones"]
    out.print(stones["about"])
    if stones["rows"]:
        table = Table(*stones["headings"])
        for cells in stones["rows"]:
            table.add_row(*cells)
        out.print(table)


def _tell_convergence(out: Console, words: dict[str, Any]) -> None:
    out.print(words["about"])
    table = Table(*words["headings"])
    for cells in words["rows"]:
        table.add_row(*cells)
    out.print(table)


def _told(line: dict[str, str]) -> str:
    """An interval in one line."""
    if line["why"]:
        return f"could not compute: {line['why']}"
    return f"{line['low']} [{line['best']}], most from {line['largest']}"


def _tell_published(out: Console, found: Published) -> None:
    out.print(about(found.results), style="bold")
    table = Table(*SUMMARY_HEADINGS)
    for cells in summary(found.results):
        table.add_row(*cells)
    out.print(table)
    out.print(WORTH)
    for result in found.results:
        if not result.passed:
            failed = row(result)
            out.print(
                f"FAIL {failed['name']}, {failed['quantity']}: expected {failed['expected']} "
                f"({failed['tolerance']}), computed {failed['computed']} {failed['note']}"
            )
