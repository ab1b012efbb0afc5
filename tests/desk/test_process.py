"""`sidehill desk` as a process: it says where it is, keeps what was typed, and leaves when told."""

import json
import os
import random
import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path
from threading import Timer
from typing import Any

import httpx
import pytest
from cli.runner import SIM
from desk.attack import Target, target
from desk.conftest import eventually, quiet_folder

from sidehill.cli.desk import EXAMPLES
from sidehill.files.library import find


def asked(desk: Target, path: str, *changes: tuple[str, str]) -> tuple[int, Any]:
    body = json.dumps({"changes": changes}).encode()
    status, said = desk.ask("POST", path, body)
    return status, json.loads(said)


def titles(folder: Path) -> str:
    return str(json.loads((folder / "desk.json").read_text("utf-8"))["title"])


@pytest.mark.slow
def test_killed_in_mid_save_it_opens_with_what_was_typed_last_or_just_before(
    tmp_path: Path,
) -> None:
    dice = random.Random(3)
    for round_ in range(4):
        with target(tmp_path / "desk") as desk:
            Timer(0.3 + dice.random(), desk.process.kill).start()
            number = 0
            try:
                while True:
                    assert asked(desk, "/change", ("title", f"{round_} {number}"))[0] == 200
                    number += 1
            except (OSError, ValueError):  # killed
                pass
        said = titles(tmp_path / "desk").split()
        assert int(said[0]) == round_
        assert 0 <= int(said[1]) <= number
        with target(tmp_path / "desk", is_quiet=False) as desk:
            assert " ".join(said) in desk.ask("GET", "/")[1].decode()
            assert not list(desk.folder.glob(".*.writing.*"))


@pytest.mark.skipif(sys.platform != "linux", reason="limits another process's files")
def test_a_disk_that_is_full_is_said_and_nothing_is_lost(tmp_path: Path) -> None:
    import resource

    with target(tmp_path / "desk") as desk:
        pid, before = desk.process.pid, (tmp_path / "desk" / "desk.json").read_bytes()
        _, most = resource.prlimit(pid, resource.RLIMIT_FSIZE, (10, resource.RLIM_INFINITY))
        assert most == resource.RLIM_INFINITY
        assert asked(desk, "/change", ("title", "on a full disk"))[0] == 200
        eventually(lambda: "is not saved" in desk.ask("GET", "/")[1].decode())
        assert (tmp_path / "desk" / "desk.json").read_bytes() == before
        machine = {"name": "x.toml", "text": find("machine", "sorrel").read_text("utf-8")}
        status, said = desk.ask("POST", "/open", json.dumps(machine).encode())
        assert status == 422
        assert "cannot be written" in json.loads(said)["error"]
        assert "on a full disk" in desk.ask("GET", "/")[1].decode()
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (most, most))
        assert asked(desk, "/change", ("options/1/name", "room again"))[0] == 200
        eventually(lambda: titles(tmp_path / "desk") == "on a full disk")


def test_it_tells_its_address_and_a_stop_loses_nothing(tmp_path: Path) -> None:
    example = shlex.split(EXAMPLES[1])
    folder = quiet_folder(tmp_path / example[example.index("--folder") + 1])
    process = subprocess.Popen(
        [sys.executable, "-m", *example], cwd=tmp_path,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONPATH": str(SIM)},
    )  # fmt: skip
    try:
        assert process.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/\?token=\S+", process.stdout.readline())
        assert found is not None
        with httpx.Client(follow_redirects=True, timeout=60.0) as client:
            assert "<title>Sidehill: the desk</title>" in client.get(found[0]).text
            here = found[0].partition("?")[0]
            body = {"changes": [["title", "typed just before the end"]]}
            assert client.post(f"{here}change", json=body).status_code == 200
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=60)
    finally:
        process.kill()
    assert process.returncode == 130
    assert "Traceback" not in out + err
    assert json.loads((folder / "desk.json").read_text("utf-8"))["title"] == (
        "typed just before the end"
    )
