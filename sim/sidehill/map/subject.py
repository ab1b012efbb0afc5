"""What pictures of a sweep are drawn of, and how its parts are named."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from sidehill.files.cells import csv_bytes
from sidehill.map.plan import OPTION, Varied
from sidehill.picture.quantity import quantity_of
from sidehill.sweep.results import Results


@dataclass(frozen=True)
class Subject:
    """Results, and the rows of the options that were asked for."""

    results: Results
    table: pd.DataFrame
    varied: Varied

    @property
    def title(self) -> str:
        """Study, machine, scenario, and what is varied but has one value."""
        meta = self.results.meta
        fixed = [
            named(self.table[column], self.table[column].iloc[0]) for column in self.varied.fixed
        ]
        machines = self.results.machine_words
        place = ", ".join((machines, meta["scenario"]["title"], *fixed))
        return f"{meta['title']}\n{place}"


@dataclass(frozen=True)
class Drawn:
    """A picture, and what it says: plain values, lines of words, and its numbers as tables."""

    name: str
    content: bytes
    data: dict[str, Any] = field(default_factory=dict)
    lines: tuple[str, ...] = ()
    tables: dict[str, pd.DataFrame] = field(
        default_factory=dict
    )  # "": what is drawn; others beside

    def csv(self, stem: str) -> dict[str, bytes]:
        """Its tables as CSV, by the name of their file; the picture's own name has that stem."""
        return {
            f"{stem}{name and f'-{name}'}.csv": csv_bytes(table)
            for name, table in self.tables.items()
        }


def parts(table: pd.DataFrame, columns: Iterable[str]) -> dict[str, pd.DataFrame]:
    """The table by the levels of some columns, each part named after them, the first slowest."""
    by = list(columns)
    if not by:
        return {"": table}
    # words as they come, numbers in order
    codes = [pd.factorize(table[one], sort=one != OPTION)[0] for one in by]
    is_one = len(table) > 0 and not any(code.any() for code in codes)  # not copied
    found = [table] if is_one else (part for _, part in table.groupby(codes))
    return {", ".join(named(table[one], part[one].iloc[0]) for one in by): part for part in found}


def named(column: pd.Series, value: Any) -> str:
    """A level of a column in words."""
    if column.name == OPTION:
        return str(value)
    known = quantity_of(column)
    return f"{known.words} {value if isinstance(value, str) else known.said(float(value))}"
