"""A full disk and a stop in the middle: no half file under the final name, no traceback."""

import os
import resource
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from cli.runner import SIM

FULL = 4_000  # [bytes] after which this disk is full: the system's own limit of a file's size


def start(words: list[str], folder: Path, limit: int | None = None) -> "subprocess.Popen[str]":
    def fill() -> None:
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    return subprocess.Popen(
        [sys.executable, "-m", "sidehill", *words], cwd=folder, text=True, preexec_fn=fill,
        env={**os.environ, "PYTHONPATH": str(SIM)}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def files(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


@pytest.mark.parametrize(
    "words",
    [
        ["urdf", "bramble", "-o", "b.urdf"],
        ["tip", "bramble", "--picture", "b.png"],
        ["drive", "sorrel", "bank-plain", "--engine", "compiled", "--out", "b"],
    ],
)
def test_a_full_disk(words: list[str], tmp_path: Path) -> None:
    (tmp_path / "b.urdf").write_text("the one of before", encoding="utf-8")
    run = start(words, tmp_path, FULL)
    out, err = run.communicate(timeout=120)
    assert run.returncode == 2, err
    assert "cannot be written (File too large)" in err
    assert "Traceback" not in err
    assert out == ""
    assert files(tmp_path) == ["b.urdf"]
    assert (tmp_path / "b.urdf").read_text(encoding="utf-8") == "the one of before"


@pytest.mark.parametrize(
    ("stop", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGKILL, -9)]
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
