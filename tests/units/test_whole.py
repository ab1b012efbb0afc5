"""Files written whole: what a killed process left is cleared by the next one that writes it."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from sidehill.files import whole
from sidehill.files.whole import MARK, replacing, write_file


@pytest.fixture(scope="module")
def dead() -> int:
    """The number of a process that is over."""
    with subprocess.Popen([sys.executable, "-c", ""]) as process:
        process.wait()
    return process.pid


def test_parts_of_a_dead_process_go_with_the_next_writing(tmp_path: Path, dead: int) -> None:
    path, others = tmp_path / "a[1].mp4", tmp_path / "b.mp4"
    left = tmp_path / f".{dead}{MARK}{path.name}"
    kept = [
        tmp_path / f".{os.getppid()}{MARK}{path.name}",  # that process still runs
        tmp_path / f".{dead}{MARK}{others.name}",  # of another file
        tmp_path / f".mine{MARK}{path.name}",  # nobody's number
        tmp_path / "a1.mp4",
    ]
    for file in (left, *kept):
        file.write_bytes(b"part")
    write_file(path, b"whole")
    assert path.read_bytes() == b"whole"
    assert not left.exists()
    assert all(file.exists() for file in kept)


def test_where_nothing_tells_who_runs_parts_are_left(
    tmp_path: Path, dead: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On Windows the signal that only asks elsewhere ends a process."""
    asked = []
    monkeypatch.setattr(whole.sys, "platform", "win32")
    monkeypatch.setattr(os, "kill", lambda *given: asked.append(given))
    left = tmp_path / f".{dead}{MARK}a.mp4"
    left.write_bytes(b"part")
    with replacing(tmp_path / "a.mp4"):
        pass
    assert left.exists()
    assert not asked
