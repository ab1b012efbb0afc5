"""What goes to the screen: reports for people, JSON for programs, warnings, the caution."""

import json
import sys
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from rich.console import Console

from sidehill.caution import CAUTION, NOT_MODELLED

_PIPED_WIDTH = 120  # columns, where nobody's window says


def out() -> Console:
    """Standard output, plain where it is not a terminal."""
    width = None if sys.stdout.isatty() else _PIPED_WIDTH
    return Console(width=width, highlight=False, markup=False, emoji=False)


def err() -> Console:
    """Standard error: progress, and warnings beside JSON."""
    return Console(stderr=True, highlight=False, markup=False, emoji=False)


def emit(data: Mapping[str, Any], warnings: Sequence[str] = ()) -> None:
    """JSON on standard output, the caution with it; warnings on standard error as well."""
    warn(warnings)
    found = {"warnings": list(warnings), "caution": CAUTION, "not_modelled": list(NOT_MODELLED)}
    print(json.dumps({**data, **found}, indent=2, allow_nan=False))


def warn(warnings: Iterable[str]) -> None:
    """On standard error, where something else than a report goes to standard output."""
    for warning in warnings:
        err().print(f"WARNING: {warning}", style="bold red", soft_wrap=True)


def lines(console: Console, pairs: Mapping[str, str]) -> None:
    """Names and values, in two columns."""
    width = max(len(name) for name in pairs)
    for name, value in pairs.items():
        console.print(f"  {name:<{width}}  {value}")


def close(
    console: Console, warnings: Iterable[str], notes: Iterable[str], defaults: Iterable[str]
) -> None:
    """The end of every report: warnings, what was assumed, the caution."""
    for warning in warnings:
        console.print(f"WARNING: {warning}", style="bold red")
    for note in notes:
        console.print(f"note: {note}")
    if defaults:
        console.print(f"defaults used: {', '.join(defaults)}")
    console.print(f"not modelled: {', '.join(NOT_MODELLED)}")
    console.print(CAUTION, style="bold")
