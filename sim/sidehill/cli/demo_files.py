"""The files of the demo."""

from pathlib import Path

from sidehill.cli import demo_report
from sidehill.cli.demo_run import HIGH, LOW, Demo
from sidehill.files.whole import write_file
from sidehill.picture.history import history_picture
from sidehill.picture.limits import limits_picture
from sidehill.run.record import save_record


def write(folder: Path, demo: Demo, films: list[str], *, us: bool) -> list[str]:
    """Write tables, records, pictures and a report that names the films to come; their paths."""
    pictures = _pictures(demo)
    files = {
        "limits.csv": demo.table.to_csv(index=False, lineterminator="\n").encode(),
        "limits.parquet": demo.table.to_parquet(index=False),
        **pictures,
        "report.md": demo_report.markdown(demo, list(pictures), films, us=us).encode(),
    }
    written = [write_file(folder / name, content) for name, content in files.items()]
    for name, record in demo.records.items():
        path = folder / f"{name.replace(', ', '-').replace(' ', '-')}.parquet"
        save_record(record, path)
        written.append(path)
    return [str(path) for path in written]


def _pictures(demo: Demo) -> dict[str, bytes]:
    found = {"limits.png": limits_picture(demo.table, f"{demo.study.title}: limits")}
    if demo.records:
        caption = demo_report.caption(demo)
        pair = {name: demo.records[name] for name in (HIGH, LOW)}
        found["bucket-high-low.png"] = history_picture(pair, caption)
        found["bucket-high-low-spacers.png"] = history_picture(demo.records, caption)
    return found
