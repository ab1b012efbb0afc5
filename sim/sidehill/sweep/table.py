"""Rows as Parquet: one part a chunk while a sweep goes on, one table once it is done."""

from collections.abc import Iterator, Sequence
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq

from sidehill.sweep.columns import Column
from sidehill.sweep.row import Row
from sidehill.whole import writing

META = b"sidehill"  # key of the metadata
GROUP = 50_000  # rows that are written, and so held, at once
GO_ON = (
    "; what was finished before is kept: once there is room, the same command goes on from there"
)
UNREADABLE = (OSError, pa.ArrowException, KeyError, TypeError, ValueError)


def schema(columns: Sequence[Column], meta: str) -> pa.Schema:
    """Types and metadata of a table."""
    return pa.schema([column.arrow for column in columns], {META: meta.encode()})


def write_part(path: Path, rows: Sequence[Row], form: pa.Schema) -> None:
    """Write rows; a column that a row has not is missing there.

    Raises:
        SidehillError: it cannot be written.
    """
    with writing(path, GO_ON) as file:
        pq.write_table(
            pa.Table.from_pylist(list(rows), schema=form), file, write_page_checksum=True
        )


def read_part(path: Path, form: pa.Schema, count: int) -> pa.Table:
    """Read a part, every page of it checked.

    Raises:
        one of UNREADABLE: damaged, or not what it must be.
    """
    table = pq.read_table(path, page_checksum_verification=True, partitioning=None)
    if table.num_rows != count or not table.schema.equals(form, check_metadata=True):
        raise ValueError("not the rows that belong here")
    return table


def write_whole(path: Path, parts: Iterator[pa.Table], form: pa.Schema) -> None:
    """Write parts as one table, a group of rows at a time.

    Raises:
        SidehillError: it cannot be written.
    """
    with (
        writing(path, GO_ON) as file,
        pq.ParquetWriter(file, form, write_page_checksum=True) as writer,
    ):
        held: list[pa.Table] = []
        for part in parts:
            held.append(part)
            if sum(table.num_rows for table in held) >= GROUP:
                writer.write_table(pa.concat_tables(held))
                held = []
        if held:
            writer.write_table(pa.concat_tables(held))


def read_meta(path: Path) -> str:
    """The metadata of a table.

    Raises:
        one of UNREADABLE: damaged, or not a table of results.
    """
    return str((pq.read_schema(path).metadata or {})[META].decode())
