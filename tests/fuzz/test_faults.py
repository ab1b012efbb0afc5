"""A full disk, a place that cannot be written or is taken away, a stop in the middle, at every
command that writes: one message, no half file under the final name, no traceback.

Each fault comes once to a process of its own, and to every other command in this one.
"""

import contextlib
import errno
import os
import resource
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from cli.runner import SIM, refused
from sweep.cheap import cheap_file
from typer.testing import CliRunner

from sidehill.cli.main import app
from sidehill.files.errors import InputError
from sidehill.files.whole import MARK, ready_file
from sidehill.study.study import load_study
from sidehill.sweep.progress import Progress
from sidehill.sweep.run_study import run_study

FULL = 4_000  # [bytes] after which this disk is full: the system's own limit of a file's size


def start(
    words: list[str], folder: Path, limit: int | None = None, hangups: Any = signal.SIG_DFL
) -> "subprocess.Popen[str]":
    def fill() -> None:
        signal.signal(signal.SIGHUP, hangups)
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    return subprocess.Popen(
        [sys.executable, "-m", "sidehill", *words], cwd=folder, text=True, preexec_fn=fill,
        env={**os.environ, "PYTHONPATH": str(SIM)}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def files(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


ONE_OPTION = """
title = "One way"
machine = "bramble"
scenario = "bank-plain"
[[option]]
name = "as delivered"
"""
SHEET = ["sheet", "one.toml", "--quick", "--film", "none"]
SWEEP = ["sweep", "cheap.toml", "--engine", "compiled", "--workers", "1"]
DRIVE = ["drive", "sorrel", "bank-plain", "--engine", "compiled"]
DRIVE_TO = [*DRIVE, "--out", "{}"]
WRITERS = [  # a command line short of the place it writes to
    ["urdf", "bramble", "-o", "{}.urdf"],
    ["tip", "bramble", "--picture", "{}.png"],
    ["picture", "bank-stone", "-o", "{}.png"],
    DRIVE_TO,
    [*SWEEP, "--out", "{}"],
    ["map", "cheap.toml", "--engine", "compiled", "-o", "{}.png"],
    [*SHEET, "-o", "{}.html"],
]


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder with a cheap study and one of a single option."""
    cheap_file(tmp_path, 2)
    (tmp_path / "one.toml").write_text(ONE_OPTION, encoding="utf-8")
    return tmp_path


def named(line: list[str], place: str) -> list[str]:
    return [word.format(place) for word in line]


def in_a_process(line: list[str], folder: Path, limit: int | None = None) -> tuple[int, str, str]:
    """Exit code, output and error of a command line."""
    run = start(line, folder, limit)
    out, err = run.communicate(timeout=120)
    return run.returncode, out, err


def in_this_one(line: list[str], folder: Path, limit: int | None = None) -> tuple[int, str, str]:
    """The same without the time that a process takes to start; the limit is lifted again."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    with contextlib.chdir(folder):
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft if limit is None else limit, hard))
            result = CliRunner().invoke(app, line)
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    return result.exit_code, result.stdout, result.stderr


HERE_AND_APART = pytest.mark.parametrize(
    ("line", "ends"),
    [(DRIVE_TO, in_a_process), *((line, in_this_one) for line in WRITERS)],
    ids=lambda value: value[0] if isinstance(value, list) else value.__name__,
)
Ends = Callable[..., tuple[int, str, str]]


@HERE_AND_APART
def test_a_full_disk(line: list[str], ends: Ends, here: Path) -> None:
    if line[0] == "map":  # or the sweep that it starts with would be stopped, not the picture
        study = load_study(here / "cheap.toml")
        run_study(study, here / "sidehill-cheap", engine="compiled", workers=1)
    before = {name: (here / name).read_bytes() for name in files(here)}
    code, out, err = ends(named(line, "b"), here, FULL)
    assert code == 2, err
    assert "cannot be written (File too large)" in err
    assert "Traceback" not in err
    assert out == ""
    assert not [name for name in files(here) if MARK in name]
    left = {name: (here / name).read_bytes() for name in files(here)}
    assert left.items() >= before.items()
    new = {name: content for name, content in left.items() if name not in before}
    assert all(len(content) < FULL for content in new.values())  # what is there had room


@pytest.mark.parametrize("place", ["taken/b", "/proc/nowhere/b"])
@HERE_AND_APART
def test_a_place_that_cannot_be_written(
    line: list[str], ends: Ends, place: str, here: Path
) -> None:
    (here / "taken").write_text("not a folder", encoding="utf-8")
    before = files(here)
    code, out, err = ends(named(line, place), here)
    assert code == 2, err
    assert place.removesuffix("/b") in err and "Traceback" not in err
    assert out == "" and files(here) == before


def test_a_demo_has_its_place_before_it_begins(here: Path) -> None:
    (here / "taken").write_text("not a folder", encoding="utf-8")
    code, out, err = in_this_one(["demo", "--out", "taken/b"], here)
    assert (code, out) == (2, "") and "taken" in err


@pytest.mark.parametrize(
    "line", [line for line in WRITERS if "." in line[-1]], ids=lambda line: line[0]
)
def test_a_pipe_is_not_replaced(line: list[str], here: Path) -> None:
    place = here / line[-1].format("b")
    os.mkfifo(place)
    code, out, err = in_this_one(named(line, "b"), here)
    assert code == 2, err
    assert "a pipe or a device, not a file" in err
    assert out == "" and place.is_fifo()


def test_a_place_behind_a_folder_that_may_not_be_entered(
    here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The root user may enter all; so it is the system's answer that is made up."""

    def closed(_: Path) -> bool:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "is_dir", closed)
    with pytest.raises(InputError, match=r"b\.png: cannot be written \(Permission denied\)"):
        ready_file(here / "b.png", ".png")


def test_a_pipe_in_a_folder_of_results_is_not_replaced(here: Path) -> None:
    (here / "b").mkdir()
    os.mkfifo(here / "b" / "record.parquet")
    run = start([*DRIVE, "--out", "b"], here)
    assert "record.parquet: a pipe or a device, not a file" in run.communicate(timeout=120)[1]
    assert run.returncode == 2 and (here / "b" / "record.parquet").is_fifo()


def test_a_file_of_before_is_kept(tmp_path: Path) -> None:
    (tmp_path / "b.urdf").write_text("the one of before", encoding="utf-8")
    _, _, err = in_this_one(["urdf", "bramble", "-o", "b.urdf"], tmp_path, FULL)
    assert "cannot be written" in err
    assert (tmp_path / "b.urdf").read_text(encoding="utf-8") == "the one of before"


def test_a_folder_that_is_taken_away(here: Path) -> None:
    cheap_file(here, 400)
    run = start([*SWEEP[:-2], "--workers", "2", "--out", "b"], here)
    patience = time.monotonic() + 60.0
    while not list(here.glob("b/parts/*.parquet")) and time.monotonic() < patience:
        time.sleep(0.02)
    shutil.move(here / "b", here / "away")
    _, err = run.communicate(timeout=60)
    assert run.returncode == 2, err
    assert "cannot be written" in err and "Traceback" not in err
    assert not (here / "b" / "results.parquet").exists()


BUSY = {  # what takes a while, and where it is to write
    "sheet": [*SHEET, "-o", "b.html"],
    "map": ["map", "cheap.toml", "-o", "b"],
    "demo": ["demo", "--quick", "--out", "b"],
}
CODES = {"SIGINT": 130, "SIGTERM": 143, "SIGHUP": 129}
ORDINARY = [("sheet", "SIGTERM"), ("map", "SIGHUP"), ("demo", "SIGINT")]  # each of them once


@pytest.mark.parametrize(
    ("command", "stop"),
    [
        pytest.param(*pair, marks=() if pair in ORDINARY else pytest.mark.slow)
        for pair in product(BUSY, CODES)
    ],
)
def test_a_stop_in_the_middle(command: str, stop: str, here: Path) -> None:
    cheap_file(here, 3000)
    run = start(BUSY[command], here)
    patience = time.monotonic() + 60.0
    while len(list(here.iterdir())) == 2 and time.monotonic() < patience:
        time.sleep(0.05)
    time.sleep(0.5)  # into the runs
    assert run.poll() is None
    err = stopped(run, getattr(signal, stop))
    assert run.returncode == CODES[stop], err
    assert "internal fault" not in err
    assert not [name for name in files(here) if MARK in name or name.endswith((".html", ".png"))]


def test_a_computer_without_memory_left_is_told(
    here: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def short(*_: object, **__: object) -> None:
        raise MemoryError("no room for an array")

    monkeypatch.setattr("sidehill.cli.drive_run.simulate", short)
    assert "not enough memory" in refused(" ".join([*DRIVE, "--out", str(here / "b")]))


def stopped(run: "subprocess.Popen[str]", stop: signal.Signals) -> str:
    """Ask it to stop, twice as impatient people do. What it said."""
    for _ in range(2):
        run.send_signal(stop)
        with contextlib.suppress(subprocess.TimeoutExpired):
            return run.communicate(timeout=0.3)[1]
    return run.communicate(timeout=60)[1]


def test_a_clock_that_jumps_back(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    study = load_study(here / "cheap.toml")
    straight = run_study(study, here / "straight", engine="compiled", workers=1)
    clock = iter(range(2_000_000_000, 0, -3600))
    monkeypatch.setattr(time, "time", lambda: float(next(clock)))
    seen: list[Progress] = []
    back = run_study(study, here / "back", engine="compiled", workers=1, watch=seen.append)
    assert back.file.read_bytes() == straight.file.read_bytes()
    assert all(now.rate >= 0.0 for now in seen)


@pytest.mark.parametrize(
    ("stop", "code"),
    [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129), (signal.SIGKILL, -9)],
)
def test_a_drive_that_is_stopped(stop: signal.Signals, code: int, tmp_path: Path) -> None:
    long = ["--set", "course.length=200 m", "--set", "drive.speed=1 km/h", "--set", "run.step=1 ms"]
    run = start(
        ["drive", "bramble", "bank-plain", *long, "--engine", "mujoco", "--out", "b"], tmp_path
    )
    patience = time.monotonic() + 60.0
    while not (tmp_path / "b").is_dir() and time.monotonic() < patience:
        time.sleep(0.05)
    time.sleep(0.5)  # into the run
    run.send_signal(stop)
    _, err = run.communicate(timeout=60)
    assert run.returncode == code
    assert "Traceback" not in err
    assert files(tmp_path) == []


def test_a_sweep_under_nohup_outlives_its_terminal(here: Path) -> None:
    cheap_file(here, 200)
    run = start([*SWEEP, "--out", "b"], here, hangups=signal.SIG_IGN)
    patience = time.monotonic() + 60.0
    while not list(here.glob("b/parts/*.parquet")) and time.monotonic() < patience:
        time.sleep(0.02)
    run.send_signal(signal.SIGHUP)
    run.communicate(timeout=120)
    assert run.returncode == 0
    assert (here / "b" / "results.parquet").exists()
