"""What the rows of a long table came to, counted a group of them at a time."""

from collections import Counter
from dataclasses import dataclass, field

import pandas as pd
import pyarrow.parquet as pq

from sidehill.sweep.measure import FACTS, pairs, told
from sidehill.sweep.results import Results


@dataclass
class Tally:
    """Counts of rows."""

    rows: int = 0
    facts: Counter[str] = field(default_factory=Counter)  # by stability and progress, in words
    first: dict[str, str] = field(default_factory=dict)  # case of the first row of each
    unknown: int = 0
    apart: int = 0  # decided differently by two engines

    def add(self, table: pd.DataFrame) -> None:
        """Count some rows."""
        words = pairs(table)
        self.rows += len(table)
        self.facts.update(words)
        for case, name in zip(table["case"], words, strict=True):
            if name not in self.first:
                self.first[name] = "" if pd.isna(case) else case
        self.unknown += sum(not facts for facts in told(table))
        again = table.filter(regex="reference_agrees$")
        self.apart += int(again.eq(False).any(axis=1).sum())


def tally(results: Results, option: str | None = None) -> Tally:
    """Of all rows, or of one option's."""
    names = {"case", "option", "problem", "reference"}
    names |= {f"{engine}{fact}" for engine in ("", "reference_") for fact in FACTS}
    found = Tally()
    with pq.ParquetFile(results.file) as file:
        columns = [n for n in results.columns if n in names or n.endswith("reference_agrees")]
        for group in range(file.num_row_groups):
            table = file.read_row_group(group, columns).to_pandas()
            found.add(table if option is None else table[table["option"] == option])
    return found
