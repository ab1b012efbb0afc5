"""What is read off a table of results: facts, numbers by name, events as 1 and 0, NaN: unknown.

A machine that cannot stand there at the start is an outcome of its own, `not_started`: it proves
nothing of what would have come of driving, and is no hole in what is known either.
"""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.files.units import NOT_COMPUTED
from sidehill.run.facts import NOT_STARTED, Facts, has_reached, is_good, is_short_of
from sidehill.strip.limits import ALL_EVENTS
from sidehill.sweep.columns import OUTCOME

STABILITY = "stability"  # the result that is drawn in classes, hatched by how far it got
FACTS = (STABILITY, "progress", "met")
COLUMN_OF = {"margin": "least_load_ratio"}  # names that people may use
_LOW_IS_BAD = ("least_", "path_m")  # beginnings of numbers that are worse when they are lower
TOLD_EVENTS = (*ALL_EVENTS, NOT_STARTED)  # that a table answers
_OF_A_RUN = {column.name for column in OUTCOME}


def told(table: pd.DataFrame) -> list[tuple[Facts, ...]]:
    """The facts of every row in each engine that ran it; none where they are not known.

    A row with a problem has none, whatever was computed before it went wrong.
    """
    names = [*FACTS, *(f"reference_{name}" for name in FACTS)]
    kinds, which = _kinds(table, names)
    runs = [_runs(*kind) for kind in kinds]
    return [runs[k] for k in which]


def _runs(is_bad: bool, was_asked: bool, *facts: Any) -> tuple[Facts, ...]:
    own, again = (*facts[:3],), (*facts[3:],)
    if is_bad or own[0] is None:
        return ()
    return (own, again) if was_asked else (own,)


def _kinds(table: pd.DataFrame, names: Sequence[str]) -> tuple[list[tuple[Any, ...]], Any]:
    """The different rows of some columns, behind whether a row has a problem and whether it was
    run again; and (n,) which of them each row is. A long table has few, so no row is made of it."""
    truths = [table[name].notna() if name in table else None for name in ("problem", "reference")]
    columns = [*truths, *(table.get(name) for name in names)]
    which, levels = np.zeros(len(table), dtype=np.int64), []
    for column in columns:
        codes, values = (-1, np.array([])) if column is None else pd.factorize(column)
        levels.append([*values.tolist(), None])  # code -1: missing
        which = which * len(levels[-1]) + np.where(np.less(codes, 0), len(levels[-1]) - 1, codes)
    different, which = np.unique(which, return_inverse=True)
    places = np.unravel_index(different, [len(level) for level in levels])
    kinds = [
        tuple(level[k] for level, k in zip(levels, kind, strict=True))
        for kind in zip(*places, strict=True)
    ]
    return kinds, which


def pairs(table: pd.DataFrame) -> pd.Series:
    """The two facts of every row as words; of what is not known NOT_COMPUTED."""
    kinds, which = _kinds(table, FACTS[:2])
    words = [
        NOT_COMPUTED if is_bad or None in facts else ", ".join(facts) for is_bad, _, *facts in kinds
    ]
    return pd.Series(np.array(words, dtype=object)[which], table.index)


def good(table: pd.DataFrame) -> int:
    """How many rows may be shown as a good result, in every engine that ran them."""
    return sum(bool(runs) and all(is_good(*facts) for facts in runs) for runs in told(table))


def started(table: pd.DataFrame) -> NDArray[np.bool_]:
    """(n,) whether a row's run started in every engine that ran it; true where nothing is known."""
    return np.array([all(facts[1] != NOT_STARTED for facts in runs) for runs in told(table)])


def outcomes(table: pd.DataFrame, event: str) -> list[bool | str | None]:
    """As `answers`, but `not_started` where nothing is proved because of that."""
    pairs = zip(answers(table, event), started(table), strict=True)
    return [answer if did or answer is not None else NOT_STARTED for answer, did in pairs]


def answers(table: pd.DataFrame, event: str) -> list[bool | None]:
    """Whether an event came, row by row: in any engine; None: not proved either way.

    Args:
        event: of `TOLD_EVENTS`.
    """
    known: dict[tuple[Facts, ...], bool | None] = {}
    rows = told(table)
    for row in rows:
        if row not in known:
            known[row] = _answer(event, row)
    return [known[row] for row in rows]


def _answer(event: str, runs: tuple[Facts, ...]) -> bool | None:
    if event == NOT_STARTED:
        return any(facts[1] == NOT_STARTED for facts in runs) if runs else None
    if any(has_reached(event, stability, progress) for stability, progress, _ in runs):
        return True
    return False if runs and all(is_short_of(event, *facts) for facts in runs) else None


def measure(table: pd.DataFrame, of: str) -> NDArray[np.float64]:
    """(n,) a result of every row; NaN where it is not known.

    Args:
        of: a numeric column, `margin`, or an event of `TOLD_EVENTS`.

    Raises:
        InputError: the table has no such result; the nearest is offered.
    """
    if of in TOLD_EVENTS and STABILITY in table:
        return np.array([np.nan if a is None else float(a) for a in answers(table, of)])
    column = COLUMN_OF.get(of, of)
    if column not in table or not _is_number(table, column):
        known = results(table)
        near = get_close_matches(of, known, n=1, cutoff=0.3)
        offer = f'did you mean "{near[0]}"?' if near else ""
        raise InputError(f'no result "{of}" in the table; {offer or ", ".join(known)}')
    values = table[column].astype("Float64").to_numpy(dtype=float, na_value=np.nan)
    return np.where(table["problem"].notna(), np.nan, values)


def independent(table: pd.DataFrame, sample: Mapping[str, Any], fields: int) -> pd.DataFrame:
    """Of a design for indices the two samples that it mixes; of another one all."""
    n, draw = sample["n"], table["draw"]
    if sample["method"] == "saltelli":
        return table[draw < 2 * n]
    return table[(draw < n) | (draw >= n * fields)] if sample["method"] == "shapley" else table


def _is_number(table: pd.DataFrame, name: str) -> bool:
    kind = table[name].dtype
    return pd.api.types.is_numeric_dtype(kind) and not pd.api.types.is_bool_dtype(kind)


def results(table: pd.DataFrame) -> list[str]:
    """Names that `measure` takes for a table, and `stability`."""
    numbers = [name for name in table if _is_number(table, name)]
    short = [name for name, column in COLUMN_OF.items() if column in table]
    judged = [STABILITY, *TOLD_EVENTS] if STABILITY in table else []
    return [*judged, *short, *numbers]


def is_outcome(of: str) -> bool:
    """Whether a result is read off the run that the row's facts are of."""
    return COLUMN_OF.get(of, of) in _OF_A_RUN or of in TOLD_EVENTS


def low_is_bad(of: str) -> bool:
    """Whether lower values of a result are the worse ones."""
    column = COLUMN_OF.get(of, of)
    return (
        column.startswith(_LOW_IS_BAD) or column.endswith("_slope_deg") or "_good_up_to_" in column
    )
