"""All engines side by side on the bump course: microseconds a step, seconds per 1,000 runs.

Run: PYTHONPATH=sim python tests/bench/bench_engines.py
The best of several rounds is printed: a machine that does other work besides is slower.
"""

from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from importlib.util import find_spec
from math import inf
from time import perf_counter

from sidehill.case import Case
from sidehill.engines import open_engine
from sidehill.flat import flatten
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.run.stages import drive, launch, settle
from sidehill.run.track import Track
from sidehill.scenario.file import load_scenario
from sidehill.workers import cores, pool

ROUNDS = 5
RUN_TIME = 8.0  # [s] simulated in a run, settling included
BATCH = {"compiled": 200, "mujoco": 60, "pybullet": 12}  # runs that are timed, then scaled


def bump_case(step: float = 1e-3) -> Case:
    """A loaded machine across a stone on a bank: about 8 s, settling included."""
    scenario = load_scenario("bank-stone").with_values({"run.step": step})
    return Case(load_machine("bramble"), scenario, Outfit(bucket_load="250 kg"))


def one_drive(case: Case, engine: str) -> tuple[float, int, float]:
    """Seconds a step, steps and peak roll [deg] of a run, its preparation left out."""
    flat = flatten(case)
    with open_engine(engine, flat) as opened:
        track = Track(flat, opened, opened.init(), flat.rows(), lambda _: None)
        start = perf_counter()
        settle(track)
        steps = int(track.state["step"][0])
        launch(track)
        drive(track)
        spent = perf_counter() - start
    steps += int(track.state["step"][0])
    return spent / steps, steps, track.outcome.peak_roll_deg


def best_drive(case: Case, engine: str) -> tuple[float, int, float]:
    return min(one_drive(case, engine) for _ in range(ROUNDS))


def simulated(task: tuple[Case, str]) -> float:
    """[s] simulated in a whole run, preparation and all."""
    case, engine = task
    track = run(case, engine)
    return float(track.state["step"][0]) * case.scenario.run.step


def per_thousand(case: Case, engine: str, workers: Executor | None) -> float:
    """[s] for 1,000 whole runs of RUN_TIME, scaled from a batch."""
    tasks = [(case, engine)] * BATCH[engine]
    spread: Callable[..., object] = map if workers is None else workers.map
    best = inf
    for _ in range(2):
        start = perf_counter()
        list(spread(simulated, tasks))
        best = min(best, perf_counter() - start)
    return best / len(tasks) * 1000.0


def compare_steps(engines: list[str], case: Case) -> None:
    print("\none run, preparation left out        us a step   times real time   peak roll deg")
    for engine in engines:
        step, steps, peak = best_drive(case, engine)
        speed = case.scenario.run.step / step
        name = f"{engine:10s} {steps:6d} steps at 1 kHz"
        print(f"  {name:35s} {step * 1e6:9.2f} {speed:13.0f} {peak:20.6f}")
    if find_spec("pybullet"):
        from plain_bullet import drive as plain_drive

        step, way, peak = min(plain_drive(case, RUN_TIME) for _ in range(ROUNDS))
        print(
            f"  plain script, native contacts       {step * 1e6:9.2f} {1e-3 / step:13.0f}"
            f" {peak:20.6f}  (its way: {way:.1f} m)"
        )


def compare_batches(engines: list[str], case: Case) -> None:
    title = f"1,000 whole runs, step {case.scenario.run.step * 1e3:g} ms"
    print(f"\n{title:37s} 1 worker s   {cores()} workers s   scaling")
    for engine in engines:
        alone = per_thousand(case, engine, None)
        # PyBullet's clients share one lock: processes
        executor = pool(BATCH[engine]) if engine == "pybullet" else ThreadPoolExecutor(cores())
        with executor as workers:
            list(workers.map(simulated, [(case, engine)] * cores()))  # warm
            together = per_thousand(case, engine, workers)
        print(f"  {engine:34s} {alone:9.1f} {together:13.1f} {alone / together:11.2f}")


def main() -> None:
    engines = ["compiled", "mujoco"] + (["pybullet"] if find_spec("pybullet") else [])
    for engine in engines:
        simulated((bump_case(), engine))  # compiles the kernels
    compare_steps(engines, bump_case())
    compare_batches(engines, bump_case())
    compare_batches(engines[:1], bump_case(2e-3))


if __name__ == "__main__":
    main()
