"""Sweeps: seconds for 1,000 whole runs by worker count, and memory at 100, 1,000 and 5,000 cases.

Run: PYTHONPATH=sim python tests/bench/bench_sweep.py [--memory | ENGINE ...]
Times are of `run_study` from the first chunk to the finished table, start of processes
included. 1,000 runs each, every line printed as soon as it is known: pybullet alone takes six
minutes. A machine that does other work besides is slower.
"""

import resource
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path
from time import perf_counter

from sidehill.study.study import load_study
from sidehill.sweep.run_study import run_study
from sidehill.workers import cores

STUDY = """
title = "Bench"
machine = "bramble"
scenario = "bank-stone"
[outfit]
bucket_load = "250 kg"
[vary]
"ground.slope" = {{ low = "2 deg", high = "10 deg" }}
"drive.speed" = {{ low = "4 km/h", high = "6 km/h" }}
"run.step" = ["{step}"]
{more}
[sample]
method = "latin"
n = {n}
seed = 1
"""
SHORT = '"course.length" = ["4 m"]\n"feature.1.at" = ["2.9 m"]'
RUNS = 1000
STEPS = {"compiled": ("1 ms", "2 ms"), "auto": ("1 ms",), "mujoco": ("1 ms",)} | (
    {"pybullet": ("1 ms",)} if find_spec("pybullet") else {}
)


def sweep(engine: str, n: int, workers: int, step: str, more: str = "") -> tuple[float, float]:
    """Seconds of a sweep and seconds simulated in it."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.toml"
        path.write_text(STUDY.format(n=n, step=step, more=more), encoding="utf-8")
        began = perf_counter()
        results = run_study(load_study(path), Path(folder) / "out", engine=engine, workers=workers)
        spent = perf_counter() - began
        return spent, float(results.table(["sim_s"])["sim_s"].sum())


def times(engines: list[str]) -> None:
    """Seconds for RUNS runs, by engine and worker count."""
    print(f"{RUNS} runs           simulated s a run   {cores()} workers s   1 worker s   scaling")
    for engine, step in ((name, step) for name in engines for step in STEPS[name]):
        sweep(engine, 8, 1, step)  # compiles
        together, simulated = sweep(engine, RUNS, cores(), step)
        head = f"  {engine:10s} {step:6s} {simulated / RUNS:17.1f} {together:13.1f}"
        print(head, end="", flush=True)
        alone, _ = sweep(engine, RUNS, 1, step)
        print(f" {alone:12.1f} {alone / together:9.2f}", flush=True)


def memory() -> None:
    """Peak resident size of a sweep's own process and of its largest worker, by its cases."""
    for n in (100, 1000, 5000):
        subprocess.run([sys.executable, __file__, "--memory-of", str(n)], check=True)


def memory_of(n: int) -> None:
    sweep("compiled", n, 2, "2 ms", SHORT)
    own, workers = (
        resource.getrusage(who).ru_maxrss / 1024.0
        for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    )
    print(
        f"  {n:6d} cases: {own:6.0f} MiB here, {workers:6.0f} MiB in the largest worker", flush=True
    )


if __name__ == "__main__":
    asked = sys.argv[1:]
    if "--memory-of" in asked:
        memory_of(int(asked[-1]))
    elif "--memory" in asked:
        memory()
    else:
        times(asked or list(STEPS))
