"""A record is as it was written, or it is refused: Parquet itself lets changed bytes pass."""

import json
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from fuzz.records import KEY, make_record

from sidehill.files.errors import InputError
from sidehill.run.record import load_record


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A short run's record."""
    return make_record(tmp_path / "run.parquet")


def rewrite(path: Path, table: pa.Table, meta: object) -> None:
    text = json.dumps(meta).encode()
    pq.write_table(table.replace_schema_metadata({KEY: text}), path)


def parts(path: Path) -> tuple[pa.Table, dict]:
    table = pq.read_table(path)
    return table, json.loads(table.schema.metadata[KEY])


def test_a_record_written_again_as_it_is_is_read(path: Path) -> None:
    rewrite(path, *parts(path))
    assert load_record(path).columns["t_s"].size > 2


def test_one_number_changed(path: Path) -> None:
    table, meta = parts(path)
    k = table.column_names.index("load_rear_left_n")
    loads = table.column(k).to_pylist()
    loads[5] += 1.0
    rewrite(path, table.set_column(k, "load_rear_left_n", pa.array(loads)), meta)
    with pytest.raises(InputError, match=r"run\.parquet: changed or damaged since it was written"):
        load_record(path)


@pytest.mark.parametrize("key", ["case", "state", "step", "urdf", "engine", "sha256"])
def test_metadata_changed(path: Path, key: str) -> None:
    table, meta = parts(path)
    rewrite(path, table, meta | {key: "other"})
    with pytest.raises(InputError, match="changed or damaged"):
        load_record(path)
    del meta[key]
    rewrite(path, table, meta)
    with pytest.raises(InputError, match="changed or damaged"):
        load_record(path)


@pytest.mark.parametrize("meta", [[], None, 7, "x", {"format": 1}, {"format": [[]]}])
def test_metadata_that_is_another(path: Path, meta: object) -> None:
    rewrite(path, parts(path)[0], meta)
    with pytest.raises(InputError, match=r"not a record|record format"):
        load_record(path)


def test_what_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "folder.parquet").mkdir()
    for name in ("folder.parquet", "missing.parquet"):
        with pytest.raises(InputError, match="no such record"):
            load_record(tmp_path / name)
