"""Mutated records through the command that reads them."""

import base64
import json
import random
import re
import zlib
from collections.abc import Callable, Iterator
from math import isfinite
from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
from fuzz.files import SHORT, Fate
from fuzz.judge import judge, numbers
from fuzz.mutate import flip_bytes

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.run.record import save_record, seal, simulate
from sidehill.scenario.file import load_scenario

STILL = ("--still", "daylight", "--size", "480x270", "--out", "out.png", "--json")
PAGE = ("-o", "out.html", "--json")
KEY = b"sidehill"
WRONG: tuple[Any, ...] = (
    *(None, True, -1, 0, 10**30, 10**400, 1e308, -1e-300, "", "x" * 3000, [], {}, [[]], {"a": []}),
    *("nan", "=1+1", "<script>", "\u202e", "<robot/>", "<robot", [1.0] * 5, ["a"], [None]),
    *(float("nan"), float("inf")),
)
Change = Callable[[random.Random, pa.Table], pa.Table]


def _pick(rng: random.Random, table: pa.Table) -> int:
    return rng.randrange(table.num_columns)


def drop_column(rng: random.Random, table: pa.Table) -> pa.Table:
    """A column less."""
    return table.remove_column(_pick(rng, table))


def rename_column(rng: random.Random, table: pa.Table) -> pa.Table:
    """A column under another name."""
    names = list(table.column_names)
    names[_pick(rng, table)] = rng.choice(("t_s", "x", "", names[0]))
    return table.rename_columns(names)


def spoil_column(rng: random.Random, table: pa.Table) -> pa.Table:
    """A column of other values, or of another kind."""
    k, n = _pick(rng, table), table.num_rows
    old = table.column(k).to_pylist()
    new = rng.choice(
        (
            pa.array(["a"] * n),
            pa.array([None] * n, pa.float64()),
            pa.array([float("nan")] * n),
            pa.array([1e300] * n),
            pa.array([0.0] * n),
            pa.array([0] * n, pa.int8()),
            pa.array(old[::-1]),
            pa.array([[value] for value in old]),
            pa.array([value if at % 7 else None for at, value in enumerate(old)]),
        )
    )
    return table.set_column(k, table.column_names[k], new)


def fewer_rows(rng: random.Random, table: pa.Table) -> pa.Table:
    """None, one, or some of the rows."""
    return table.slice(0, rng.choice((0, 0, 1, 2, table.num_rows // 2)))


def spoil_meta(rng: random.Random, table: pa.Table) -> pa.Table:
    """A value of the metadata replaced, or gone."""
    meta = json.loads(table.schema.metadata[KEY])
    inner, key = _somewhere(rng, meta)
    if rng.random() < 0.3:
        del inner[key]
    else:
        inner[key] = rng.choice(WRONG)
    text = json.dumps(meta)
    return table.replace_schema_metadata({KEY: text.encode()})


def other_meta(rng: random.Random, table: pa.Table) -> pa.Table:
    """Metadata that is no object, no JSON, or none at all."""
    text = rng.choice((b"", b"[]", b"null", b"7", b'"x"', b"{", b"\xff\xfe", b"[" * 9000, b"{}"))
    return table.replace_schema_metadata(rng.choice(({KEY: text}, {b"other": text}, {})))


def _somewhere(rng: random.Random, data: Any) -> tuple[Any, Any]:
    """A container inside the data, and a key of it."""
    while True:
        keys = list(data) if isinstance(data, dict) else list(range(len(data)))
        key = rng.choice(keys)
        inner = data[key]
        if not (isinstance(inner, dict | list) and inner) or rng.random() < 0.2:
            return data, key
        data = inner


CHANGES: tuple[Change, ...] = (
    *(drop_column, rename_column, spoil_column, spoil_column, fewer_rows),
    *(spoil_meta, spoil_meta, spoil_meta, spoil_meta, other_meta),
)


def make_record(path: Path) -> Path:
    """A short run with a lift-off in it, to mutate."""
    course = path.with_name("short.toml")
    course.write_text(SHORT, encoding="utf-8")
    case = Case(load_machine("bramble"), load_scenario(course).with_values({"run.rate": 20.0}))
    save_record(simulate(case, "compiled"), path)
    return path


def campaign(seed: int, count: int, folder: Path) -> Iterator[Fate]:
    """`count` mutated records, each through `film --still` or `replay`.

    Half of them are sealed again, as if they had been written so.
    """
    rng = random.Random(seed)
    table = pq.read_table(make_record(folder / "sound.parquet"))
    raw = (folder / "sound.parquet").read_bytes()
    line = ("film", "sound.parquet", *STILL)
    yield Fate("record", raw, "nothing", " ".join(line), *judge(line, "sound.parquet"))
    for number in range(count):
        file = folder / f"record-{number}.parquet"
        done = _write(rng, table, raw, file)
        line = rng.choice((("film", file.name, *STILL), ("replay", file.name, *PAGE)))
        exit_code, wrong = judge(line, file.name)
        if done.endswith("sealed again") and wrong.startswith("names no file"):
            wrong = ""  # it is a record by its seal, and is named by its key
        if exit_code == 0 and line[0] == "replay":
            wrong = wrong or undrawn(Path(PAGE[1]).read_text(encoding="utf-8"))
        yield Fate("record", file.read_bytes(), done, " ".join(line), exit_code, wrong)
        file.unlink()


def _write(rng: random.Random, table: pa.Table, raw: bytes, file: Path) -> str:
    """Write a mutated record; what was done."""
    if rng.random() < 0.2:
        file.write_bytes(flip_bytes(rng, raw) if rng.random() < 0.7 else raw[: rng.randrange(9999)])
        return "bytes"
    done = []
    for _ in range(rng.choice((1, 1, 2))):
        change = rng.choice(CHANGES)
        try:
            table = change(rng, table)
        except (pa.ArrowException, LookupError, ValueError, TypeError, RecursionError):
            continue  # an earlier change left nothing for it
        done.append(change.__name__)
    if rng.random() < 0.5:
        table = sealed(table)
        done.append("sealed again")
    pq.write_table(table, file)
    return ", ".join(done)


def sealed(table: pa.Table) -> pa.Table:
    """The table with the seal of what it now holds; as it is where nothing can be sealed."""
    try:
        meta = json.loads(table.schema.metadata[KEY])
        meta.pop("sha256", None)
        columns = {name: table.column(name).to_numpy() for name in table.column_names}
        meta["sha256"] = seal(columns, meta)
    except (AttributeError, KeyError, RecursionError, TypeError, ValueError, pa.ArrowException):
        return table
    return table.replace_schema_metadata({KEY: json.dumps(meta).encode()})


def undrawn(page: str) -> str:
    """What of a replay's tables of numbers is none, read without the project's own code."""
    words, whole = (
        zlib.decompress(base64.b64decode(_script(page, name))) for name in ("data", "tables")
    )
    data = json.loads(words)
    size = sum(4 * table["rows"] * table["columns"] for table in data["tables"])
    if size != len(whole):
        return f"{len(whole)} bytes of tables, {size} announced"
    if not all(table["rows"] > 0 and isfinite(table["step"]) for table in data["tables"]):
        return "a table without rows or step"
    return "" if all(isfinite(number) for number in numbers(data)) else "a number that is none"


def _script(page: str, name: str) -> str:
    """What a script tag of data holds."""
    found = re.search(rf'<script[^>]*id="{name}"[^>]*>(.*?)</script>', page, re.DOTALL)
    assert found is not None, name
    return found[1]
