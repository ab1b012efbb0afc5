"""The run of `sidehill drive`: what is read off it, and its files."""

from math import degrees
from pathlib import Path
from shlex import quote
from time import perf_counter
from typing import Any

from sidehill.cli.job import Job
from sidehill.cli.progress import progress
from sidehill.files.whole import write_file
from sidehill.kernels.layout import BROKEN, CUT, TURNED
from sidehill.picture.history import history_picture
from sidehill.replay import write_replay
from sidehill.run.record import Record, save_record, simulate


def drive(job: Job, folder: Path, replay: bool) -> dict[str, Any]:
    """Run it and write record, picture and, if asked for, a replay.

    Plain values, None where nothing is known.
    """
    started = perf_counter()
    with progress(f"driving in {job.engine}"):
        record = simulate(job.case, job.engine)
    wall = perf_counter() - started
    tilts = job.case.scenario.course.is_tilt_table
    data = read_tilt(record) if tilts else record.outcome.to_dict()
    notes = record.meta["notes"]  # those of the machine, and what lies under which wheel
    return data | {"wall_s": wall, "notes": notes, "files": _write(record, folder, replay)}


def read_tilt(record: Record) -> dict[str, Any]:
    """Slopes of a tilt table; None where the event did not come, or nothing is known."""
    finish = int(record.state["finish"][0])
    problem = "numbers went bad: nothing is known" if finish == BROKEN else None
    names = ("lift_off_slope_deg", "on_stop_slope_deg", "last_on_stop_slope_deg")
    values = [degrees(value) or None for value in record.state["event_slope"][0]]
    return {
        **dict(zip(names, [None] * 3 if problem else values, strict=True)),
        "went_over": None if problem else finish not in (TURNED, CUT),
        "problem": problem,
        "sim_s": float(record.state["step"][0] * record.step),
    }


def _write(record: Record, folder: Path, replay: bool) -> list[str]:
    parquet, picture, page = (folder / f"record.{end}" for end in ("parquet", "png", "html"))
    save_record(record, parquet)
    write_file(picture, history_picture({"": record}))
    if not replay:
        return [str(parquet), str(picture)]
    with progress(f"writing {page.name}"):
        title = str(record.meta["case"]["machine"]["name"])
        again = f"sidehill replay {parquet.name} --title {quote(title)} -o {page.name}"
        write_replay(page, [record], [title], command=again)
    return [str(parquet), str(picture), str(page)]
