"""Tables as CSV, in which no text is a formula."""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pandas as pd

FORMULA = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet computes a cell that begins so


def as_text(cell: Any) -> Any:
    """The cell; text that would be computed has an apostrophe before it, as people mark text."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(FORMULA) else cell


def csv_bytes(table: "pd.DataFrame") -> bytes:
    """A table without its index as CSV; a missing value is an empty cell."""
    words = {name: table[name].map(as_text) for name in table.select_dtypes(exclude="number")}
    told = table.assign(**words).rename(columns=as_text)
    content: bytes = told.to_csv(index=False, lineterminator="\n").encode()
    return content
