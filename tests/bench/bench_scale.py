"""Very large sweeps: seconds and memory, with an executor that only pretends to run, or real rows.

    PYTHONPATH=sim python tests/bench/bench_scale.py [CASES ...]
    PYTHONPATH=sim python tests/bench/bench_scale.py real CASES

Pretended, every row is a copy of one that was run, but for its place, so all that is timed is
design, rows, parts, table: half of it, stopped; the same folder gone on with; the table drawn.
Real, on the cheapest course at 2 ms: half of it, stopped as by Ctrl-C; the rest; drawn. Each in
a process of its own; the peaks are of that process, and of the largest of its workers.
"""

import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from concurrent.futures import Executor, Future
from contextlib import suppress
from pathlib import Path
from time import perf_counter
from typing import Any

from sidehill.map.make import draw_map
from sidehill.study.study import load_study
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import load_results
from sidehill.sweep.row import Row
from sidehill.sweep.run_study import run_study
from sidehill.sweep.task import Task, work

STUDY = """
title = "Scale"
machine = "bramble"
scenario = "short.toml"
[vary]
"ground.slope" = {{ low = "2 deg", high = "10 deg" }}
"drive.speed" = {{ low = "4 km/h", high = "6 km/h" }}
[sample]
method = "sobol"
n = {n}
replicates = {replicates}
"""
SHORT = """
title = "Short"
teaches = "the cheapest course"
[ground]
slope = "5 deg"
[course]
length = "1 m"
[drive]
speed = "5 km/h"
[run]
step = "2 ms"
rate = "10 Hz"
"""
CASES = (100_000, 1_000_000)
DRAWS, MOST_REPLICATES = 2**12, 1000  # of a replicate; as many as make up the cases


class Pretending(Executor):
    """Hands back copies of one row; stops after so many cases, as one that was killed."""

    def __init__(self, most: float) -> None:
        self.row: Row | None = None
        self.left = most

    def submit(self, _: Callable[..., Any], task: Task, /) -> Future[Any]:  # type: ignore[override]
        self.left -= len(task.places)
        if self.left < 0:
            raise KeyboardInterrupt
        if self.row is None:
            self.row = work(Task(task.study, task.asked, task.places[:1]))[0]
        done: Future[Any] = Future()
        rows = [
            self.row | {"draw": place.draw, "replicate": place.replicate} | place.values
            for place in task.places
        ]
        done.set_result(rows)
        return done


def step(what: str, cases: int, folder: Path, real: bool) -> None:
    """One step, timed; its peak."""
    draws = DRAWS
    while draws * MOST_REPLICATES < cases:
        draws *= 2
    file = folder / "scale.toml"
    file.write_text(STUDY.format(n=draws, replicates=-(-cases // draws)), encoding="utf-8")
    (folder / "short.toml").write_text(SHORT, encoding="utf-8")
    most = cases / 2 if what == "half of it" else float("inf")

    def watch(now: Progress) -> None:
        if real and now.done >= most:
            raise KeyboardInterrupt

    began = perf_counter()
    if what == "draw":
        draw_map(load_results(folder / "out"))
    else:
        with suppress(KeyboardInterrupt):
            run_study(
                load_study(file), folder / "out", engine="compiled", workers=2, watch=watch,
                executor=None if real else Pretending(most),
            )  # fmt: skip
    spent = perf_counter() - began
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    cpu = sum(one.ru_utime + one.ru_stime for one in used)
    peaks = [one.ru_maxrss / 1024.0 for one in used]
    said = f"{spent:7.1f} s ({cpu:.0f} s of CPU) {peaks[0]:6.0f} MiB"
    said += f", worker {peaks[1]:.0f} MiB" * real
    print(f"  {cases:10,d} {'real' if real else 'pretended'}, {what:10s} {said}", flush=True)


def main(kind: str, sizes: list[int]) -> None:
    """Every step of every size, each in a process of its own."""
    for cases in sizes or CASES:
        with tempfile.TemporaryDirectory() as place:
            for name in ("half of it", "the rest", "draw"):
                command = [sys.executable, __file__, "--step", name, str(cases), place, kind]
                subprocess.run(command, check=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--step"]:
        step(sys.argv[2], int(sys.argv[3]), Path(sys.argv[4]), sys.argv[5] == "real")
    elif sys.argv[1:2] == ["real"]:
        main("real", [int(text) for text in sys.argv[2:]])
    else:
        main("pretended", [int(text) for text in sys.argv[1:]])
