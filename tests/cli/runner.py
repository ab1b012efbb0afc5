"""Runs the command line in this process, and as a process of its own."""

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

from typer.testing import CliRunner

import sidehill
from sidehill.cli.main import app

SIM = Path(sidehill.__file__).parent.parent


def run(line: str) -> Any:
    """The result of a command line, without the leading `sidehill`."""
    return CliRunner().invoke(app, shlex.split(line))


def answer(line: str) -> dict[str, Any]:
    """The JSON of a command line that must succeed."""
    result = run(f"{line} --json")
    assert result.exit_code == 0, result.output
    return dict(json.loads(result.stdout))


def refused(line: str) -> str:
    """The one message of a command line that must be refused: exit 2, nothing on stdout."""
    result = run(line)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    message: str = result.stderr
    assert message.startswith("sidehill: ")
    return message.removeprefix("sidehill: ").strip()


def process(line: str, folder: Path, patience: float = 120.0) -> "subprocess.CompletedProcess[str]":
    """The same in a real process, working in `folder`."""
    environment = {**os.environ, "PYTHONPATH": str(SIM)}
    return subprocess.run(
        [sys.executable, "-m", "sidehill", *shlex.split(line)],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        timeout=patience,
        check=False,
    )
