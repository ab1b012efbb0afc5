"""The folder of a sweep: what it is of, the parts that are done, the table in the end."""

import csv
import io
import json
import shutil
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq

from sidehill.caution import CAUTION
from sidehill.files.cells import as_text
from sidehill.files.errors import InputError
from sidehill.files.whole import MARK, writing
from sidehill.sweep.agenda import Agenda, fingerprint
from sidehill.sweep.known import Known
from sidehill.sweep.row import Row
from sidehill.sweep.same import another_study, check, check_engine, names
from sidehill.sweep.table import (
    GO_ON,
    PARTS,
    PLAN,
    TABLE,
    UNREADABLE,
    bare,
    read_meta,
    read_part,
    schema,
    write_part,
    write_whole,
)

COLUMNS = "columns.csv"
EARLIER = "earlier"  # what the folder held before the study was changed
_OURS = (TABLE, COLUMNS, PARTS, PLAN)


@dataclass
class Folder:
    """Where a sweep keeps what it has."""

    path: Path
    agenda: Agenda
    notes: list[str] = field(default_factory=list)  # what was found and done about it

    @property
    def table(self) -> Path:
        """The table of all cases, once they are done."""
        return self.path / TABLE

    @cached_property
    def form(self) -> pa.Schema:
        """Types and metadata of the table."""
        return schema(self.agenda.columns, json.dumps(self.agenda.meta, sort_keys=True))

    @cached_property
    def part_form(self) -> pa.Schema:
        """The same of a part, which is of this study by its fingerprint."""
        return bare(self.agenda.columns, self.agenda.fingerprint)

    def part(self, chunk: int) -> Path:
        """The file of a chunk."""
        return self.path / PARTS / f"part-{chunk:06d}.parquet"

    @property
    def earlier(self) -> list[Path]:
        """Folders of what was here before the study was changed."""
        return sorted(path.parent for path in self.path.glob(f"{EARLIER}/*/{PLAN}"))

    def claim(self) -> None:
        """Make sure that what is here is of this study, engine and physics; nothing else is.

        What is of this study before it was changed is kept beside, if any of its cases are.

        Raises:
            InputError: it is not; nothing was changed.
            SidehillError: it cannot be written.
        """
        plan = self.path / PLAN
        if plan.is_file():
            found = read_about(plan)
            check_engine(self.path, found, self.agenda)
            if fingerprint(found) != self.agenda.fingerprint:
                self._set_aside(found)
            if found != self.agenda.meta:
                self._write_plan()
            return
        there = [name for name in _OURS if (self.path / name).exists()]
        if there:
            raise InputError(
                f"{self.path}: has {', '.join(there)} but no {PLAN}, so nothing says what study "
                "they are of; give another --out"
            )
        self._write_plan()

    def _write_plan(self) -> None:
        with writing(self.path / COLUMNS, GO_ON) as file:
            file.write(dictionary(self.agenda).encode())
        with writing(self.path / PLAN, GO_ON) as file:  # last: the folder is ours from here
            file.write(json.dumps(self.agenda.meta, indent=2).encode())

    def _set_aside(self, found: dict[str, Any]) -> None:
        """Keep what is of another study that has cases in common with this one.

        Raises:
            InputError: it has none, or looks for something else.
        """
        alike = found["find"] == self.agenda.meta["find"]
        if not (alike and Known([self.path]).has_any_of(self.agenda)):
            raise InputError(another_study(self.path, found))
        aside = self.path / EARLIER / fingerprint(found)
        aside.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(self.path / PLAN, aside / PLAN)  # first: from there it can be gone on with
        for name in (TABLE, PARTS):
            if (self.path / name).exists():
                (self.path / name).replace(aside / name)

    def done(self, see: Callable[[pa.Table], None] = lambda _: None) -> list[int]:
        """The chunks that are whole; one that cannot be read is set aside, and said.

        Args:
            see: shown the rows of each, which are read once.
        """
        for scrap in self.path.joinpath(PARTS).glob(f".*{MARK}*"):
            scrap.unlink()  # being written as a sweep was killed
        found = []
        for chunk in range(self.agenda.chunks):
            path = self.part(chunk)
            if not path.exists():
                continue
            try:
                rows = self.read(chunk)
            except UNREADABLE:
                aside = path.with_name(path.name + ".unreadable")
                path.replace(aside)
                self.notes.append(f"{aside}: could not be read, so its cases are run again")
            else:
                see(rows)
                found.append(chunk)
        return found

    def read(self, chunk: int) -> pa.Table:
        """The rows of a chunk.

        Raises:
            one of UNREADABLE: damaged, or not what belongs there.
        """
        return read_part(self.part(chunk), self.part_form, self.agenda.rows_of(chunk))

    def keep(self, chunk: int, rows: list[Row]) -> None:
        """Write the rows of a chunk.

        Raises:
            SidehillError: it cannot be written.
        """
        write_part(self.part(chunk), rows, self.part_form)

    def finish(self) -> None:
        """Make the table of all parts, in the order of the design, and let go of them.

        Raises:
            SidehillError: it cannot be written; the parts are kept.
        """
        form, count = self.form, self.agenda.chunks
        write_whole(self.table, (self.read(k) for k in range(count)), form)
        self.tidy()
        for folder in self.earlier:
            if not set(Known([folder]).spots) - set(Known([self.path]).spots):
                shutil.rmtree(folder)  # every row of it that went well is in the table

    def tidy(self) -> None:
        """Remove the parts, which the table has; what was set aside stays."""
        for chunk in range(self.agenda.chunks):
            self.part(chunk).unlink(missing_ok=True)
        parts = self.path / PARTS
        if parts.is_dir() and not any(parts.iterdir()):
            parts.rmdir()

    def is_finished(self) -> bool:
        """Whether the table is there, of this study; what it is called is kept true in it.

        Raises:
            InputError: it is there and cannot be used.
        """
        if not self.table.exists():
            return False
        found = read_about(self.table)
        check(self.path, found, self.agenda)
        if names(found) != names(self.agenda.meta):
            groups, form = pq.ParquetFile(self.table), self.form
            tables = (groups.read_row_group(k) for k in range(groups.num_row_groups))
            write_whole(self.table, tables, form)
        return True


def read_about(path: Path) -> dict[str, Any]:
    """What a plan or a table says of itself.

    Raises:
        InputError: it cannot be read, or says nothing of the kind.
    """
    try:
        text = read_meta(path) if path.suffix == ".parquet" else path.read_text(encoding="utf-8")
        found = json.loads(text)
        fingerprint(found)
        if not {"machines", "sources"} <= found.keys():
            raise ValueError("of an earlier version")
        if not f"{found['title']}{found['file']}".isprintable():
            raise ValueError("control characters")
    except UNREADABLE:
        raise InputError(
            f"{path}: cannot be read, or is not as it was written; nothing was changed; give "
            "another --out"
        ) from None
    return dict(found)


def dictionary(agenda: Agenda) -> str:
    """The data dictionary, as CSV; its last line, of no column, is the caution."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(("column", "type", "unit", "meaning"))
    for column in agenda.columns:
        cells = (column.name, column.type, column.unit, column.meaning)
        writer.writerow(as_text(cell) for cell in cells)
    writer.writerow(("", "", "", CAUTION))
    return text.getvalue()
