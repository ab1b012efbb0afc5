"""A table as cells over two of its columns: the worse end of every cell, unknown rows counted."""

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from sidehill.run.facts import proves, worst_seen
from sidehill.strip.quantity import VARIED
from sidehill.sweep.limits import ANSWERS, answer_of, read_limit
from sidehill.sweep.measure import STABILITY, low_is_bad, measure, told


@dataclass(frozen=True)
class Cell:
    """What is known at one place of a map."""

    column: int  # its place along x and y
    row: int
    stability: str | None  # the worst one that is known
    arrival: str | None  # the same, of `facts.ARRIVAL`
    value: float  # the worst one that is known; NaN if none is
    unknown: int
    rows: int
    proves: bool = True  # all known runs got to an end: their numbers are of the whole course
    answer: str = ""  # of a limit: of `limits.ANSWERS`, the worst of several


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
    kept["facts"] = pd.Series(told(table), dtype=object)
    kept["answer"] = _answers(table, of)
    kept["value"] = np.nan if of == STABILITY else measure(table, of)
    nowhere = kept["answer"].isin(("none good", "backwards"))
    is_unknown = kept["facts"].str.len() == 0
    kept["unknown"] = is_unknown if of == STABILITY else kept["value"].isna() & ~nowhere
    groups: dict[Hashable, pd.DataFrame] = dict(list(kept.groupby(["x", "y"])))
    found = []
    for i, across in enumerate(x_levels):
        for j, up in enumerate(y_levels):
            part = groups.get((across, up))
            found.append(
                Cell(i, j, None, None, np.nan, 1, 0) if part is None else _cell(i, j, part, of)
            )
    return Cells(x_levels, y_levels, tuple(found))


def levels(values: pd.Series) -> tuple[Any, ...]:
    """The different values, numbers in order, words as they come."""
    different = list(values.dropna().unique())
    return tuple(sorted(different) if pd.api.types.is_numeric_dtype(values) else different)


def _cell(i: int, j: int, part: pd.DataFrame, of: str) -> Cell:
    values = part["value"].dropna().to_numpy()
    worse = np.nan if not len(values) else float(min(values) if low_is_bad(of) else max(values))
    runs = [facts for known in part["facts"] for facts in known]
    stability, arrival = worst_seen(runs)
    answers = [one for one in ANSWERS if (part["answer"] == one).any()]
    return Cell(
        column=i,
        row=j,
        stability=stability,
        arrival=arrival,
        value=worse,
        unknown=int(part["unknown"].sum()),
        rows=len(part),
        proves=all(proves(progress, met) for _, progress, met in runs),
        answer=answers[0] if answers else "",
    )


def _answers(table: pd.DataFrame, of: str) -> list[str]:
    """(n,) what kind of answer each limit is; empty where it is none."""
    event, is_limit, unit = of.partition("_good_up_to_")
    varied = next((one for one in VARIED.values() if one.suffix == unit), None)
    if not is_limit or varied is None:
        return [""] * len(table)
    return [answer_of(read_limit(row, event, varied)) for _, row in table.iterrows()]
