"""The folder of a sweep: what it is of, the parts that are done, the table in the end."""

import csv
import io
import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pyarrow as pa

from sidehill.files.errors import InputError
from sidehill.files.whole import MARK, writing
from sidehill.sweep.agenda import Agenda, fingerprint
from sidehill.sweep.row import Row
from sidehill.sweep.table import (
    GO_ON,
    UNREADABLE,
    read_meta,
    read_part,
    schema,
    write_part,
    write_whole,
)
from sidehill.sweep.version import ROW_VERSION

TABLE = "results.parquet"
COLUMNS = "columns.csv"
PARTS = "parts"
PLAN = "study.json"
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

    @property
    def form(self) -> pa.Schema:
        """Types and metadata of the table."""
        return schema(self.agenda.columns, json.dumps(self.agenda.meta, sort_keys=True))

    @property
    def part_form(self) -> pa.Schema:
        """The same of a part, which is of this study by its fingerprint."""
        return schema(self.agenda.columns, self.agenda.fingerprint)

    def part(self, chunk: int) -> Path:
        """The file of a chunk."""
        return self.path / PARTS / f"part-{chunk:06d}.parquet"

    def claim(self) -> None:
        """Make sure that what is here is of this study, engine and physics; nothing else is.

        Raises:
            InputError: it is not; nothing was changed.
            SidehillError: it cannot be written.
        """
        plan = self.path / PLAN
        if plan.is_file():
            check(self.path, read_about(plan), self.agenda)
            return
        there = [name for name in _OURS if (self.path / name).exists()]
        if there:
            raise InputError(
                f"{self.path}: has {', '.join(there)} but no {PLAN}, so nothing says what study "
                "they are of; give another --out"
            )
        with writing(self.path / COLUMNS, GO_ON) as file:
            file.write(dictionary(self.agenda).encode())
        with writing(plan, GO_ON) as file:  # last: the folder is ours from here
            file.write(json.dumps(self.agenda.meta, indent=2).encode())

    def done(self) -> list[int]:
        """The chunks that are whole; one that cannot be read is set aside, and said."""
        for scrap in self.path.joinpath(PARTS).glob(f".*{MARK}*"):
            scrap.unlink()  # being written as a sweep was killed
        found = []
        for chunk in range(self.agenda.chunks):
            path = self.part(chunk)
            if not path.exists():
                continue
            try:
                self.read(chunk)
            except UNREADABLE:
                aside = path.with_name(path.name + ".unreadable")
                path.replace(aside)
                self.notes.append(f"{aside}: could not be read, so its cases are run again")
            else:
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
        write_whole(
            self.table,
            (self.read(k).replace_schema_metadata(form.metadata) for k in range(count)),
            form,
        )
        self.tidy()

    def tidy(self) -> None:
        """Remove the parts, which the table has; what was set aside stays."""
        for chunk in range(self.agenda.chunks):
            self.part(chunk).unlink(missing_ok=True)
        parts = self.path / PARTS
        if parts.is_dir() and not any(parts.iterdir()):
            parts.rmdir()

    def is_finished(self) -> bool:
        """Whether the table is there, of this study.

        Raises:
            InputError: it is there and cannot be used.
        """
        if not self.table.exists():
            return False
        check(self.path, read_about(self.table), self.agenda)
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
        if not f"{found['title']}{found['file']}".isprintable():
            raise ValueError("control characters")
    except UNREADABLE:
        raise InputError(
            f"{path}: cannot be read, or is not as it was written; nothing was changed; give "
            "another --out"
        ) from None
    return dict(found)


def check(path: Path, found: dict[str, Any], agenda: Agenda) -> None:
    """Whether results are of this study, engine and physics.

    Raises:
        InputError: they are not.
    """
    asked, now = found["asked"], agenda.asked
    advice = "nothing was changed; give another --out, or remove the folder to run it again"
    if fingerprint(found) != agenda.fingerprint:
        raise InputError(
            f'{path}: holds another study, "{found.get("title")}" ({found.get("file")}), or this '
            f"one before it was changed; {advice}"
        )
    engines = (asked.get("engine"), asked.get("reference"))
    if engines != (now.engine, now.reference):
        raise InputError(
            f"{path}: was computed in {_engines(*engines)}, not in "
            f"{_engines(now.engine, now.reference)}; {advice}"
        )
    if found.get("physics") != ROW_VERSION:
        raise InputError(
            f"{path}: was computed with version {found.get('physics')} of the physics; this is "
            f"{ROW_VERSION}, and the two are not mixed; {advice}"
        )


def _engines(engine: str | None, reference: str | None) -> str:
    return f"{engine}, checked in {reference}" if reference else f"{engine}"


def dictionary(agenda: Agenda) -> str:
    """The data dictionary, as CSV."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(("column", "type", "unit", "meaning"))
    for column in agenda.columns:
        writer.writerow((column.name, column.type, column.unit, column.meaning))
    return text.getvalue()
