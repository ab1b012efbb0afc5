"""The files of the demo."""

from math import radians
from pathlib import Path

import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq

from sidehill.caution import CAUTION
from sidehill.cli import demo_report
from sidehill.cli.demo_run import Demo
from sidehill.files.cells import csv_bytes
from sidehill.files.whole import write_file
from sidehill.picture.history import history_picture
from sidehill.picture.strip import strips_picture
from sidehill.replay import write_replay
from sidehill.run.record import save_record


def write(folder: Path, demo: Demo, films: list[str], *, us: bool) -> list[str]:
    """Write tables, records, pictures, replays and a report that names the films to come.

    Returns their paths.
    """
    pictures = _pictures(demo)
    replays = [f"{shown.name}.html" for shown in demo.shown]
    report = demo_report.markdown(demo, list(pictures), replays, films, us=us)
    files = {
        "strips.csv": csv_bytes(demo.table),
        "strips.parquet": _parquet(demo.table),
        **pictures,
        "report.md": report.encode(),
    }
    written = [write_file(folder / name, content) for name, content in files.items()]
    for shown in demo.shown:
        for option, record in shown.records.items():
            name = option.replace(", ", "-").replace(" ", "-")
            path = folder / f"{shown.name}-{name}.parquet"
            save_record(record, path)
            written.append(path)
        page, note = folder / f"{shown.name}.html", demo_report.caption(shown)
        written.append(
            write_replay(page, list(shown.records.values()), list(shown.records), note=note)
        )
    return [str(path) for path in written]


def _parquet(table: pd.DataFrame) -> bytes:
    """The table as Parquet, the caution in its metadata."""
    told = pa.Table.from_pandas(table, preserve_index=False)
    into = pa.BufferOutputStream()
    about = {**told.schema.metadata, b"caution": CAUTION.encode()}
    pq.write_table(told.replace_schema_metadata(about), into)
    return bytes(into.getvalue())


def _pictures(demo: Demo) -> dict[str, bytes]:
    standing = demo.table.set_index("option")["compliant_lift_off_slope_deg"].dropna()
    lift_offs = {name: radians(value) for name, value in standing.items()}
    found = {"strips.png": strips_picture(demo.strips, demo.study.title, lift_offs=lift_offs)}
    for shown in demo.shown:
        found[f"{shown.name}.png"] = history_picture(shown.records, demo_report.caption(shown))
    return found
