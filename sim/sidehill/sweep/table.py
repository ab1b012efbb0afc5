"""Rows as Parquet: one part a chunk while a sweep goes on, one table once it is done."""

import hashlib
import os
from collections.abc import Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from typing import BinaryIO

import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq

from sidehill.files.whole import writing
from sidehill.sweep.columns import Column
from sidehill.sweep.row import Row

TABLE, PARTS, PLAN = "results.parquet", "parts", "study.json"  # in the folder of a sweep
META, SEAL, PANDAS = b"sidehill", b"sha256", b"pandas"  # keys of the metadata
BLOCK = 1 << 20  # bytes that are hashed at a time
TAIL = 8  # bytes at the end of a Parquet file: the length of its footer and its mark
GROUP = 50_000  # rows that are written, and so held, at once
GO_ON = (
    "; what was finished before is kept: once there is room, the same command goes on from there"
)
UNREADABLE = (OSError, pa.ArrowException, KeyError, TypeError, ValueError)


@lru_cache(8)
def schema(columns: tuple[Column, ...], meta: str) -> pa.Schema:
    """Types and metadata of a table; what pandas reads of them keeps whole numbers whole."""
    blank = pd.DataFrame({column.name: pd.Series(dtype=column.pandas) for column in columns})
    told = pa.Schema.from_pandas(blank, preserve_index=False).metadata[PANDAS]
    return pa.schema([column.arrow for column in columns], {META: meta.encode(), PANDAS: told})


def bare(columns: tuple[Column, ...], meta: str) -> pa.Schema:
    """Types alone: what is said of a column need not be in every part."""
    fields = [column.arrow.remove_metadata() for column in columns]
    return pa.schema(fields, {META: meta.encode()})


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
            held.append(pa.Table.from_arrays(part.columns, schema=form))
            if sum(table.num_rows for table in held) >= GROUP:
                writer.write_table(pa.concat_tables(held))
                held = []
        if held:
            writer.write_table(pa.concat_tables(held))
        file.flush()
        with Path(file.name).open("rb") as written:
            writer.add_key_value_metadata({SEAL: seal(written, file.tell(), form)})


def seal(file: BinaryIO, size: int, form: pa.Schema) -> str:
    """Hash of a table's pages, the first `size` bytes of its file, and of its columns and
    metadata: what Parquet itself does not notice a change of."""
    digest = hashlib.sha256(form.remove_metadata().to_string().encode())
    digest.update((form.metadata or {})[META])
    while block := file.read(min(BLOCK, size - file.tell())):
        digest.update(block)
    return digest.hexdigest()


def read_meta(path: Path) -> str:
    """The metadata of a table that is as it was written.

    Raises:
        one of UNREADABLE: damaged, changed, or not a table of results.
    """
    with pq.ParquetFile(path) as table:
        form, added = table.schema_arrow, table.metadata.metadata
    with path.open("rb") as file:
        file.seek(-TAIL, os.SEEK_END)
        pages = file.tell() - int.from_bytes(file.read(4), "little")
        file.seek(0)
        whole = seal(file, pages, form)
    if added[SEAL].decode() != whole:
        raise ValueError("changed since it was written")
    return str(form.metadata[META].decode())
