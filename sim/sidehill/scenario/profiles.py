"""Measured profiles: a CSV file of heights over the path, read as `Heights`."""

import csv
import re
from pathlib import Path
from typing import Annotated, Any

import numpy as np

from sidehill.files.errors import InputError
from sidehill.files.fields import Quantity, Text
from sidehill.files.inside import inside
from sidehill.files.spec import Spec, build
from sidehill.files.toml import Document
from sidehill.files.units import to_si
from sidehill.scenario.heights import ROUND_OFF, Heights

SIDES = {"left": 0.2, "right": -0.2}  # [m] from where on a profile of that side's wheels counts
PATH = "path"  # head of the first column
_HEAD = re.compile(r"\s*(.+?)\s*\[\s*(.+?)\s*\]\s*")
_MOST_BYTES = 20_000_000


class HeightsFile(Spec):
    """The [heights] table of a scenario file: where they are, and from which path length on."""

    file: Annotated[str, Text(400)]
    start: Annotated[float, Quantity("length", "0 m", "200 m")] | None = None  # else the file's own


def with_heights(document: Document, folder: Path) -> Document:
    """A scenario's document with the heights that its [heights] names.

    Raises:
        InputError: the table or the file cannot be used.
    """
    if "heights" not in document.data:
        return document
    where = f"{document.where(('heights',))}: heights"
    table = document.data["heights"]
    if not isinstance(table, dict):
        raise InputError(f'{where}: allowed: a table, as [heights] with file = "bank.csv"')
    asked = build(HeightsFile, Document(where, table))
    path = inside(folder, asked.file, f'{where}: file = "{asked.file}"')
    try:
        found = read_heights(path, asked.start)
    except InputError as error:
        raise InputError(f"{where}: {error}") from None
    return Document(
        document.name, {**document.data, "heights": found}, document.lines, document.overridden,
        document.set_by,
    )  # fmt: skip


def read_heights(file: str | Path, start: float | None = None) -> Heights:
    """The heights in a CSV file: a column of the path, and one for each profile.

    Heads are `path [m]`, then `left [mm]` and `right [mm]` for what the wheels of each side roll
    on, or offsets to the left of the path, as `0.5 m [mm]`.

    Args:
        start: [m] path length at which the first row lies, else as the file has it.

    Raises:
        InputError: file, row, column, value, what is allowed.
    """
    path = Path(file)
    heads, rows = _table(path)
    offsets, factors = zip(*(_head(path, head, not k) for k, head in enumerate(heads)), strict=True)
    numbers = np.array([_row(path, number, heads, row) for number, row in enumerate(rows, 2)])
    along, profiles = numbers[:, 0] * factors[0], numbers[:, 1:] * np.array(factors[1:])
    spacing = (along[-1] - along[0]) / (len(along) - 1)
    _check_even(path, along, spacing)
    order = np.argsort(offsets[1:])
    data = {
        "start": float(along[0]) if start is None else start,
        "spacing": float(f"{spacing:.9g}"),
        "across": np.array(offsets[1:])[order],
        "height": profiles[:, order].T,
    }
    return build(Heights, Document(str(path), data), si=True)


def _table(path: Path) -> tuple[list[str], list[list[str]]]:
    """Heads and rows, blank ones left out."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise InputError(f"{path}: too large; allowed: up to {_MOST_BYTES // 1_000_000} MB")
        with path.open(encoding="utf-8-sig", newline="") as file:
            lines = [line for line in csv.reader(file) if any(cell.strip() for cell in line)]
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise InputError(f"{path}: cannot be read as CSV ({error})") from None
    if len(lines) < 3 or len(lines[0]) < 2:
        raise InputError(f"{path}: needed: a head, as path [m],left [mm],right [mm], and two rows")
    return lines[0], lines[1:]


def _head(path: Path, head: str, is_path: bool) -> tuple[float, float]:
    """[m] offset of a column (0 of the path), and what its numbers are to be multiplied with."""
    parts = _HEAD.fullmatch(head)
    where = f'{path}: column "{head[:60]}"'
    needed = "path [m] first" if is_path else "left [mm], right [mm], or an offset as 0.5 m [mm]"
    if parts is None or (parts[1] == PATH) != is_path:
        raise InputError(f"{where}: allowed: {needed}")
    try:
        unit = to_si(f"1 {parts[2]}", "length")
        known = SIDES | {PATH: 0.0}
        return known[parts[1]] if parts[1] in known else to_si(parts[1], "length"), unit
    except InputError as error:
        raise InputError(f"{where}: {error}; allowed: {needed}") from None


def _row(path: Path, number: int, heads: list[str], row: list[str]) -> list[float]:
    if len(row) != len(heads):
        raise InputError(f"{path}: row {number}: {len(row)} values for {len(heads)} columns")
    return [_number(path, number, head, cell) for head, cell in zip(heads, row, strict=True)]


def _number(path: Path, number: int, head: str, cell: str) -> float:
    try:
        value = float(cell)
    except ValueError:
        value = np.nan
    if not np.isfinite(value):
        raise InputError(f'{path}: row {number}, column "{head}": "{cell[:40]}": not a number')
    return value


def _check_even(path: Path, along: Any, spacing: float) -> None:
    """That places are evenly spaced and rising."""
    away = np.abs(np.diff(along) - spacing)
    if spacing <= 0.0 or away.max() > max(ROUND_OFF, 1e-3 * spacing):
        row = int(away.argmax()) + 2
        raise InputError(
            f"{path}: rows {row} and {row + 1}: path {along[row - 2]:g} m, {along[row - 1]:g} m; "
            "allowed: rising evenly; bring it to even steps first, as with numpy.interp"
        )
