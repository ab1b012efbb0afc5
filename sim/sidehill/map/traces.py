"""Cases of a sweep that are driven again, for their roll over the path."""

from collections.abc import Callable
from math import radians
from typing import Any

import pandas as pd

from sidehill.case import Case
from sidehill.engines import choose
from sidehill.files.errors import InputError
from sidehill.map.plan import Traces
from sidehill.map.subject import Drawn, Subject, named
from sidehill.picture.style import Kind
from sidehill.picture.traces import traces_picture
from sidehill.strip.limit import Search
from sidehill.strip.words import quantity
from sidehill.sweep.columns import UNIT_OF
from sidehill.sweep.kept import kept_records

RECORDS = "records"  # folder beside the table
_ENDS = {"highest_good": "last good", "lowest_bad": "first bad"}


def traced(subject: Subject, picture: Traces, kind: Kind, say: Callable[[str], None]) -> Drawn:
    """Run what has no record yet in the folder of the results, and draw."""
    cases: dict[str, Case] = {}
    for asked in picture.cases:
        cases |= _cases(subject, asked)
    folder = subject.results.folder / RECORDS
    records = kept_records(cases, choose("auto"), folder, say)
    content = traces_picture(dict(zip(cases, records, strict=True)), subject.title, kind)
    return Drawn(picture.name, content, {name: case.key() for name, case in cases.items()})


def _cases(subject: Subject, asked: str) -> dict[str, Case]:
    """The case of a key or of its beginning; where limits were looked for, both their ends."""
    table, quest = subject.table, subject.results.meta["asked"]["quest"]
    rows = table[table["case"].fillna("").str.startswith(asked)]
    if len(rows) != 1:
        found = "no case" if rows.empty else f"{len(rows)} cases"
        raise InputError(f"--trace {asked}: {found} in {subject.results.file} begin with that")
    row = rows.iloc[0]
    levels = [named(table[column], row[column]) for column in subject.varied.lists]
    name = ", ".join((f"{row['case'][:6]} {row['option']}", *levels))
    case = subject.results.case(row.to_dict())
    return {name: case} if quest is None else _ends(case, name, row, quest)


def _ends(case: Case, name: str, row: Any, quest: dict[str, Any]) -> dict[str, Case]:
    """Last good and first bad run of the last event that was looked for."""
    of, until, unit = quest["of"], quest["untils"][-1], UNIT_OF[quest["of"]]
    search = Search(case, of)
    found = {}
    for end, words in _ENDS.items():
        value = row[f"{until}_{end}_{unit}"]
        if not pd.isna(value):
            si = radians(value) if unit == "deg" else float(value)
            shown = quantity(float(value), unit.replace("_", "/"))
            found[f"{name}, {words} {of} {shown}"] = search.case_at(si)
    if not found:
        raise InputError(f"--trace {name}: no limit was found in it")
    return found
