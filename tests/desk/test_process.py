"""`sidehill desk` as a process: it says where it is, keeps what was typed, and leaves when told."""

import json
import os
import re
import shlex
import signal
import subprocess
import sys
from pathlib import Path

import httpx
from cli.runner import SIM
from desk.conftest import quiet_folder

from sidehill.cli.desk import EXAMPLES


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
