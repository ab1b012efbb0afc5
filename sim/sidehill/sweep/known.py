"""Rows that were computed before, known by their cases: what a changed study need not run again."""

import json
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.row import Row
from sidehill.sweep.table import PARTS, PLAN, TABLE, UNREADABLE
from sidehill.sweep.task import Place, measured

_HELD = 4  # groups of rows that are held at once; a study that grew goes through them in order

Spot = tuple[int, int, int]  # file, group of rows in it, row in that


class Known:
    """Rows of finished and unfinished sweeps, by the keys of their cases."""

    def __init__(self, folders: Sequence[Path]) -> None:
        self.files = [path for folder in folders for path in files_of(folder)]
        self.spots: dict[str, Spot] = {}
        for number, path in enumerate(self.files):
            for group, keys in _keys(path):
                for row, key in enumerate(keys):
                    if key is not None:
                        self.spots.setdefault(key, (number, group, row))
        self._group = lru_cache(_HELD)(self._read)

    def __len__(self) -> int:
        return len(self.spots)

    def row(self, case: Case) -> Row | None:
        """What is known of a case; None: nothing."""
        spot = self.spots.get(case.key())
        if spot is None:
            return None
        number, group, row = spot
        found: Row = self._group(number, group).slice(row, 1).to_pylist()[0]
        return found

    def _read(self, number: int, group: int) -> pa.Table:
        return pq.ParquetFile(self.files[number]).read_row_group(group)

    def has_any_of(self, agenda: Agenda) -> bool:
        """Whether any case of a study is known."""
        numbers = range(agenda.count) if self.spots else ()
        return any(self.rows(agenda, [agenda.place(number)]) for number in numbers)

    def rows(self, agenda: Agenda, places: Sequence[Place]) -> dict[int, Row]:
        """Those of some places that are known, by their number among them."""
        found = {}
        for number, place in enumerate(places):
            row = self._row_at(agenda, place) if self.spots else None
            if row is not None:
                found[number] = row
        return found

    def _row_at(self, agenda: Agenda, place: Place) -> Row | None:
        study = agenda.study
        option = study.options[place.option]
        try:
            case = study.case_at(option, place.values)
        except InputError:
            return None  # it will be this case's problem, in its row
        row = self.row(case)
        if row is None:
            return None
        own = {"option": option.name, "draw": place.draw, "replicate": place.replicate}
        return row | own | place.values | measured(study, case)


def files_of(folder: Path) -> list[Path]:
    """Its table, or what it has of one."""
    table = folder / TABLE
    return [table] if table.is_file() else sorted((folder / PARTS).glob("part-*.parquet"))


def _keys(path: Path) -> Iterator[tuple[int, list[str | None]]]:
    """Keys of the cases of every group of rows; None: what went wrong there is run again."""
    try:
        file = pq.ParquetFile(path)
        for group in range(file.num_row_groups):
            rows = file.read_row_group(group, columns=["case", "problem"]).to_pydict()
            pairs = zip(rows["case"], rows["problem"], strict=True)
            yield group, [key if problem is None else None for key, problem in pairs]
    except UNREADABLE:
        return  # it is run again


def check_alike(folder: Path, meta: dict[str, Any]) -> None:
    """That rows of another folder may stand beside those of a study.

    Args:
        meta: of the study's agenda.

    Raises:
        InputError: they are of another engine or physics, or look for something else.
    """
    plan = folder / PLAN
    try:
        found = json.loads(plan.read_text(encoding="utf-8"))
        differs = [name for name in ("physics", "asked", "find") if found[name] != meta[name]]
    except UNREADABLE:
        raise InputError(f"{folder}: no sweep that can be read; give the folder of one") from None
    words = {"physics": "version of the physics", "asked": "engine", "find": "[find]"}
    if differs:
        said = ", ".join(words[name] for name in differs)
        raise InputError(f"{folder}: has another {said}; its rows cannot stand beside these")
