"""Cases of a sweep that are driven again, for their roll over the path."""

from collections.abc import Callable
from typing import Any

import pandas as pd

from sidehill.case import Case
from sidehill.engines import choose
from sidehill.files.errors import InputError
from sidehill.map.plan import Traces
from sidehill.map.subject import Drawn, Subject, named
from sidehill.picture.style import Kind
from sidehill.picture.traces import traces_picture
from sidehill.study.plan import Find
from sidehill.sweep.kept import kept_records

RECORDS = "records"  # folder beside the table
_ENDS = {"good_up_to": "last good", "first_bad": "first bad", "unknown_from": "nothing proved from"}


def traced(subject: Subject, picture: Traces, kind: Kind, say: Callable[[str], None]) -> Drawn:
    """Run what has no record yet in the folder of the results, and draw."""
    cases: dict[str, Case] = {}
    for asked in picture.cases:
        cases |= _cases(subject, asked)
    folder = subject.results.folder / RECORDS
    records = kept_records(cases, choose("auto"), folder, say)
    content = traces_picture(dict(zip(cases, records, strict=True)), subject.title, kind)
    keys = {name: case.key() for name, case in cases.items()}
    shown = ("t_s", "path_m", "roll_slope_deg")
    every = [
        pd.DataFrame({"of": name} | {column: record.columns[column] for column in shown})
        for name, record in zip(cases, records, strict=True)
    ]
    return Drawn(picture.name, content, keys, tables={"": pd.concat(every, ignore_index=True)})


def _cases(subject: Subject, asked: str) -> dict[str, Case]:
    """The case of a key or of its beginning; with limits, what lies at their ends."""
    table, find = subject.table, subject.results.find
    rows = table[table["case"].fillna("").str.startswith(asked)]
    if len(rows) != 1:
        found = "no case" if rows.empty else f"{len(rows)} cases"
        raise InputError(f"--trace {asked}: {found} in {subject.results.file} begin with that")
    row = rows.iloc[0]
    levels = [named(table[column], row[column]) for column in subject.varied.lists]
    name = ", ".join((f"{row['case'][:6]} {row['option']}", *levels))
    case = subject.results.case(row.to_dict())
    return {name: case} if find is None else _ends(case, name, row, find)


def _ends(case: Case, name: str, row: Any, find: Find) -> dict[str, Case]:
    """The runs at the ends of the last event that was looked for."""
    varied, event = find.varied, find.until[-1]
    found = {}
    for end, words in _ENDS.items():
        value = row[f"{event}_{end}_{varied.suffix}"]
        if not pd.isna(value):
            si = varied.to_si(float(value))
            shown = f"{words} {varied.words} {varied.show(si)}"
            found[f"{name}, {shown}"] = varied.case_at(case, si, find.feature)
    if not found:
        raise InputError(f"--trace {name}: no limit was found in it")
    return found
