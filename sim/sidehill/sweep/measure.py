"""What is read off a table of results: numbers by name, events as 1 and 0, NaN for the unknown."""

from difflib import get_close_matches

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.run.outcome import UNKNOWN, VERDICTS
from sidehill.sweep.columns import OUTCOME
from sidehill.sweep.probability import EVENTS

VERDICT = "verdict"
COLUMN_OF = {"margin": "least_load_ratio"}  # names that people may use
_LOW_IS_BAD = ("least_", "path_m")  # beginnings of numbers that are worse when they are lower
_LOW_IS_BAD_ENDS = ("_slope_deg", "_highest_good_deg", "_highest_good_m_s", "_highest_good_m")
_OF_A_RUN = {column.name for column in OUTCOME}
_RANK = {name: rank for rank, name in enumerate(VERDICTS)}


def verdicts(table: pd.DataFrame) -> pd.Series:
    """The verdict of every row; where two engines disagree the worse one; missing if unknown.

    A row with a problem has none, whatever was computed before it went wrong.
    """
    found = table[VERDICT].astype(object)
    if "reference_verdict" in table:
        again = table["reference_verdict"].astype(object)
        found = found.where(again.isna() | (_ranks(found) <= _ranks(again)), again)
    return found.where(table["problem"].isna() & found.isin(VERDICTS) & ~found.isin(UNKNOWN), None)


def _ranks(names: pd.Series) -> pd.Series:
    return names.map(lambda name: _RANK.get(name, -1))


def measure(table: pd.DataFrame, of: str) -> NDArray[np.float64]:
    """(n,) a result of every row; NaN where it is not known.

    Args:
        of: a numeric column, `margin`, or an event of `probability.EVENTS`.

    Raises:
        InputError: the table has no such result; the nearest is offered.
    """
    unknown = table["problem"].notna()
    if of in EVENTS:
        judged = verdicts(table)
        happened = judged.isin(EVENTS[of]).astype(float)
        return np.asarray(happened.where(judged.notna(), np.nan), dtype=float)
    column = COLUMN_OF.get(of, of)
    known = results(table)
    if column not in table or not pd.api.types.is_numeric_dtype(table[column]):
        near = get_close_matches(of, known, n=1, cutoff=0.3)
        offer = f'did you mean "{near[0]}"?' if near else ""
        raise InputError(f'no result "{of}" in the table; {offer or ", ".join(known)}')
    values = table[column].astype("Float64").to_numpy(dtype=float, na_value=np.nan)
    return np.where(unknown, np.nan, values)


def results(table: pd.DataFrame) -> list[str]:
    """Names that `measure` takes for a table, and `verdict`."""
    numbers = [name for name in table if pd.api.types.is_numeric_dtype(table[name])]
    short = [name for name, column in COLUMN_OF.items() if column in table]
    judged = [VERDICT, *EVENTS] if VERDICT in table else []
    return [*judged, *short, *numbers]


def is_outcome(of: str) -> bool:
    """Whether a result is read off the run that the row's verdict is of."""
    return COLUMN_OF.get(of, of) in _OF_A_RUN


def low_is_bad(of: str) -> bool:
    """Whether lower values of a result are the worse ones."""
    column = COLUMN_OF.get(of, of)
    return column.startswith(_LOW_IS_BAD) or column.endswith(_LOW_IS_BAD_ENDS)
