"""The files of the demo."""

from math import radians
from pathlib import Path

from sidehill.cli import demo_report
from sidehill.cli.demo_run import Demo
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
        "strips.csv": demo.table.to_csv(index=False, lineterminator="\n").encode(),
        "strips.parquet": demo.table.to_parquet(index=False),
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


def _pictures(demo: Demo) -> dict[str, bytes]:
    standing = demo.table.set_index("option")["compliant_lift_off_slope_deg"].dropna()
    lift_offs = {name: radians(value) for name, value in standing.items()}
    found = {"strips.png": strips_picture(demo.strips, demo.study.title, lift_offs=lift_offs)}
    for shown in demo.shown:
        found[f"{shown.name}.png"] = history_picture(shown.records, demo_report.caption(shown))
    return found
