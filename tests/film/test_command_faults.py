"""`sidehill film` where something is wrong outside: interrupted, no room, no engine, no display."""

import os
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from film.posed import case_of, posed

from sidehill.run.record import save_record

SIM = Path(__file__).parents[2] / "sim"
LINE = "film a.parquet --size 480x270 --fps 30"
BRIEF = "film a.parquet --size 480x270 --fps 5 --workers 1"
PATIENCE = 120.0  # [s] for a process to begin, on a busy machine
ROOM = 4_000  # [bytes] that a file may have

# engines and what draws on screens look as if they had never been installed
NOTHING = """
import importlib.machinery, sys
from pathlib import Path
find = importlib.machinery.PathFinder.find_spec
ABSENT = ("pybullet", "mujoco", "OpenGL", "glfw", "pygame", "tkinter", "_tkinter")
def hidden(name, path=None, target=None):
    return None if name.split(".")[0] in ABSENT else find(name, path, target)
importlib.machinery.PathFinder.find_spec = hidden
from sidehill.cli.main import app
try:
    app()
finally:
    assert not [name for name in ABSENT if name in sys.modules]
    loaded = Path("/proc/self/maps")
    lines = loaded.read_text().splitlines() if loaded.exists() else []
    text = " ".join(line for line in lines if "site-packages" not in line)  # Pillow brings its own
    for library in ("libGL", "libEGL", "libX11", "libxcb", "libOSMesa", "libvulkan", "libwayland"):
        assert library not in text, library
"""


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder with the record of three seconds."""
    save_record(posed(case_of("bramble", "bank-stone"), [0.0] * 300), tmp_path / "a.parquet")
    return tmp_path


def begin(
    line: str, folder: Path, *start: str, before: Callable[[], None] | None = None
) -> "subprocess.Popen[str]":
    """A command line as a process of its own; `start`: how Python is to start, else the command."""
    environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY")}
    return subprocess.Popen(
        [sys.executable, *(start or ("-m", "sidehill")), *line.split()],
        cwd=folder, env=environment | {"PYTHONPATH": str(SIM)}, preexec_fn=before, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True,
    )  # fmt: skip


@pytest.mark.parametrize("workers", ["1", "2"])
def test_ctrl_c_leaves_no_half_file(here: Path, workers: str) -> None:
    """As a terminal sends it: to every process of the group, while frames are being written."""
    process = begin(f"{LINE} --workers {workers} --out out/a.mp4", here)
    until = time.monotonic() + PATIENCE
    while not any(f.stat().st_size for f in here.glob("out/.*.mp4")) and time.monotonic() < until:
        assert process.poll() is None, "ended before it could be interrupted"
        time.sleep(0.02)
    os.killpg(process.pid, signal.SIGINT)
    told = process.communicate(timeout=PATIENCE)[1]
    assert process.returncode != 0
    assert "Traceback" not in told
    assert not list((here / "out").iterdir())


def test_a_kill_leaves_no_process_behind(here: Path) -> None:
    process = begin(f"{LINE} --workers 2 --out out/a.mp4", here)
    until = time.monotonic() + PATIENCE
    while not any(f.stat().st_size for f in here.glob("out/.*.mp4")) and time.monotonic() < until:
        assert process.poll() is None, "ended before it could be killed"
        time.sleep(0.02)
    assert len(alive(process.pid)) >= 2  # this and the encoder, which has a group of its own
    process.kill()
    process.communicate(timeout=PATIENCE)
    while alive(process.pid) and time.monotonic() < until:
        time.sleep(0.05)
    assert not alive(process.pid)
    assert not (here / "out" / "a.mp4").exists()


def alive(session: int) -> list[int]:
    """The processes of a session that still run."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            told = folder.joinpath("stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue  # it just ended
        if int(told[3]) == session and told[0] != "Z":
            found.append(int(folder.name))
    return found


def test_no_room_is_one_message_and_no_half_file(here: Path) -> None:
    def little_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (ROOM, ROOM))

    process = begin(f"{BRIEF} --out out/a.mp4", here, before=little_room)
    told = process.communicate(timeout=PATIENCE)[1]
    assert process.returncode == 2, told
    assert len(told.strip().splitlines()) == 1, told
    assert "a.mp4" in told or "encoded" in told
    assert not list((here / "out").iterdir())


@pytest.mark.parametrize(
    "line",
    [
        f"{BRIEF} --slow 1 --out a.mp4",
        "film demo --option bucket~low,~as~delivered --engine compiled "
        "--still end --size 480x270 --out a.png",
    ],
)
def test_without_engines_display_or_system_libraries(here: Path, line: str) -> None:
    script = NOTHING.replace("app()", f"app({[w.replace('~', ' ') for w in line.split()]})")
    process = begin("", here, "-c", script)
    told = process.communicate(timeout=PATIENCE)[1]
    assert process.returncode == 0, told
    assert (here / line.split()[-1]).stat().st_size > 10_000
