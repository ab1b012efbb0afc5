"""Sweeps that are killed at random moments: every case once, as if nothing had happened."""

import os
import random
import subprocess
import sys
import time
from pathlib import Path
from signal import SIGINT, SIGKILL

import pandas as pd
import pytest
from sweep.cheap import cheap_file

from sidehill.study.study import load_study
from sidehill.sweep.folder import TABLE
from sidehill.sweep.results import load_results
from sidehill.sweep.run_study import run_study

LONGEST = 7.0  # [s] until a kill: from before the first import to the last rows

pytestmark = pytest.mark.skipif(not Path("/proc").is_dir(), reason="children are found in /proc")


def start(study: Path, out: Path) -> "subprocess.Popen[str]":
    line = [sys.executable, "-m", "sidehill", "sweep", study, "--out", out, "--workers", "2"]
    return subprocess.Popen(
        [*line, "--engine", "compiled"],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
    )


def workers_of(pid: int) -> list[int]:
    """The processes that a sweep has started to compute for it."""
    try:
        children = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="utf-8").split()
        lines = {int(c): Path(f"/proc/{c}/cmdline").read_bytes() for c in children}
    except OSError:
        return []
    return [child for child, line in lines.items() if b"spawn_main" in line]


def kill_one(process: "subprocess.Popen[str]", rng: random.Random) -> str:
    """The sweep itself at any moment, or one of its workers once there are some."""
    if rng.random() < 0.5:
        time.sleep(rng.uniform(0.0, LONGEST))
        if process.poll() is None:
            process.kill()
            process.wait()
            return "sweep"
        return "finished"
    while process.poll() is None and not workers_of(process.pid):
        time.sleep(0.02)
    time.sleep(rng.uniform(0.0, 0.4 * LONGEST))
    victims = workers_of(process.pid)
    if not victims:
        return "finished"
    os.kill(rng.choice(victims), SIGKILL)
    return "worker"


def kill_often(folder: Path, kills: int, draws: int, seed: int) -> dict[str, int]:
    """Kill so often, resume, and compare with a run that was left alone; what was killed."""
    study = cheap_file(folder, draws)
    whole = run_study(load_study(study), folder / "whole", engine="compiled", workers=2).table()
    rng, out, done = random.Random(seed), folder / "out0", {"worker": 0, "sweep": 0, "finished": 0}
    process = start(study, out)
    while done["worker"] + done["sweep"] < kills:
        what = kill_one(process, rng)
        done[what] += 1
        if what == "finished":  # before it was killed: another one
            check(process, out, whole)
            out = folder / f"out{done['finished']}"
        if process.poll() is not None:
            process = start(study, out)
    check(process, out, whole)
    return done


def check(process: "subprocess.Popen[str]", out: Path, whole: pd.DataFrame) -> None:
    """It ends well, with every case exactly once and equal to the undisturbed run's."""
    _, said = process.communicate(timeout=300)
    assert process.returncode == 0, said
    table = load_results(out).table()
    assert table["case"].nunique() == len(table) == len(whole)
    pd.testing.assert_frame_equal(table, whole)


def test_two_kills(tmp_path: Path) -> None:
    done = kill_often(tmp_path, kills=2, draws=200, seed=1)
    assert done["worker"] + done["sweep"] == 2


@pytest.mark.slow
def test_thirty_kills(tmp_path: Path) -> None:
    done = kill_often(tmp_path, kills=30, draws=1500, seed=2)
    assert done["worker"] and done["sweep"]
    print(done)


def test_an_interrupt_says_how_to_go_on_and_leaves_nobody_behind(tmp_path: Path) -> None:
    study, out = cheap_file(tmp_path, 4000), tmp_path / "out"
    process = start(study, out)
    end = time.monotonic() + 60.0
    while not list(out.glob("parts/*.parquet")) and time.monotonic() < end:
        time.sleep(0.05)
    workers = workers_of(process.pid)
    process.send_signal(SIGINT)
    _, said = process.communicate(timeout=30)
    assert process.returncode == 130
    assert "of 8,000 cases are kept" in said and "the same command goes on" in said
    assert not (out / TABLE).exists()
    time.sleep(0.5)
    assert workers and not [pid for pid in workers if Path(f"/proc/{pid}").exists()]
