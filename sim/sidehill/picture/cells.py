"""A table as cells over two of its columns: the worse end of every cell, unknown rows counted."""

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sidehill.picture.verdicts import worst
from sidehill.sweep.measure import VERDICT, low_is_bad, measure, verdicts


@dataclass(frozen=True)
class Cell:
    """What is known at one place of a map."""

    column: int  # its place along x and y
    row: int
    verdict: str | None  # the worst one that is known
    value: float  # the worst one that is known; NaN if none is
    unknown: int
    rows: int
    none_good: bool = False  # of a limit: the lowest value tried is bad already
    alternates: bool = False  # of a limit: good again above the first bad value


@dataclass(frozen=True)
class Cells:
    """Cells over the levels of two columns, from low to high."""

    x_levels: tuple[Any, ...]
    y_levels: tuple[Any, ...]
    cells: tuple[Cell, ...]


def cells(table: pd.DataFrame, x: str, y: str, of: str) -> Cells:
    """Every place that a table has rows for, or ought to have: a missing one is unknown."""
    x_levels, y_levels = levels(table[x]), levels(table[y])
    kept = pd.DataFrame({"x": table[x].to_numpy(), "y": table[y].to_numpy()})
    has_verdict = VERDICT in table
    kept["verdict"] = verdicts(table).to_numpy() if has_verdict else None
    kept["value"] = np.nan if of == VERDICT else measure(table, of)
    kept["none_good"], kept["alternates"] = _limit_marks(table, of)
    kept["unknown"] = (
        kept["verdict"].isna() if of == VERDICT else kept["value"].isna() & ~kept["none_good"]
    )
    groups: dict[Hashable, pd.DataFrame] = dict(list(kept.groupby(["x", "y"])))
    found = []
    for i, across in enumerate(x_levels):
        for j, up in enumerate(y_levels):
            part = groups.get((across, up))
            found.append(Cell(i, j, None, np.nan, 1, 0) if part is None else _cell(i, j, part, of))
    return Cells(x_levels, y_levels, tuple(found))


def levels(values: pd.Series) -> tuple[Any, ...]:
    """The different values, numbers in order, words as they come."""
    different = list(values.dropna().unique())
    return tuple(sorted(different) if pd.api.types.is_numeric_dtype(values) else different)


def _cell(i: int, j: int, part: pd.DataFrame, of: str) -> Cell:
    values = part["value"].dropna().to_numpy()
    worse = np.nan if not len(values) else float(min(values) if low_is_bad(of) else max(values))
    return Cell(
        column=i,
        row=j,
        verdict=worst(part["verdict"]),
        value=worse,
        unknown=int(part["unknown"].sum()),
        rows=len(part),
        none_good=bool(part["none_good"].any()),
        alternates=bool(part["alternates"].any()),
    )


def _limit_marks(table: pd.DataFrame, of: str) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """(n,) whether nothing tried was good, and whether good and bad values alternate."""
    until, _, is_limit = of.partition("_highest_good_")
    if not is_limit or f"{until}_is_threshold" not in table:
        return np.zeros(len(table), dtype=bool), np.zeros(len(table), dtype=bool)
    ends = table["problem"].isna() & table[f"{until}_verdict_at_limit"].notna()
    threshold = table[f"{until}_is_threshold"].astype("boolean").fillna(True)
    return (table[of].isna() & ends).to_numpy(), (~threshold & ends).to_numpy(dtype=bool)
