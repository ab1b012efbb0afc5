"""Bookkeeping of very large sweeps: seconds and memory with an executor that only pretends to run.

Run: PYTHONPATH=sim python tests/bench/bench_scale.py [CASES ...]
Every row is a copy of one that was run, but for its place, so all that is timed is design, rows,
parts, table; then the same folder half done and gone on with; then the table drawn. Each in a
process of its own, peak resident size after.
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
from sidehill.sweep.results import load_results
from sidehill.sweep.row import Row
from sidehill.sweep.run_study import run_study
from sidehill.sweep.task import Task, work

STUDY = """
title = "Scale"
machine = "bramble"
scenario = "bank-plain"
[vary]
"ground.slope" = {{ low = "2 deg", high = "10 deg" }}
"drive.speed" = {{ low = "4 km/h", high = "6 km/h" }}
[sample]
method = "latin"
n = {n}
"""
CASES = (100_000, 1_000_000)


class Pretending(Executor):
    """Hands back copies of one row; stops after so many cases, as one that was killed."""

    def __init__(self, most: float = float("inf")) -> None:
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


def step(what: str, n: int, folder: Path) -> None:
    """One step, timed; its peak."""
    file = folder / "scale.toml"
    file.write_text(STUDY.format(n=n), encoding="utf-8")
    began = perf_counter()
    if what == "draw":
        draw_map(load_results(folder / "out"))
    else:
        most = n / 2 if what == "half of it" else float("inf")
        with suppress(KeyboardInterrupt):
            pretending = Pretending(most)
            run_study(
                load_study(file), folder / "out", engine="compiled", executor=pretending, workers=2
            )
    spent = perf_counter() - began
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    print(f"  {n:10,d} cases, {what:12s} {spent:7.1f} s {peak:6.0f} MiB", flush=True)


def main(sizes: list[int]) -> None:
    """Every step of every size, each in a process of its own."""
    for cases in sizes or CASES:
        with tempfile.TemporaryDirectory() as place:
            for name in ("half of it", "the rest", "draw"):
                command = [sys.executable, __file__, "--step", name, str(cases), place]
                subprocess.run(command, check=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--step"]:
        step(sys.argv[2], int(sys.argv[3]), Path(sys.argv[4]))
    else:
        main([int(text) for text in sys.argv[1:]])
