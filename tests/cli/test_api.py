"""The Python API: everything it names exists, nothing is loaded before it is used."""

import subprocess
import sys

import pytest
from cli.runner import SIM

import sidehill


def python(code: str) -> str:
    """The output of a fresh interpreter."""
    done = subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONPATH": str(SIM), "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    return done.stdout.strip()


@pytest.mark.parametrize("name", sidehill.__all__)
def test_every_name_is_there(name: str) -> None:
    assert getattr(sidehill, name).__name__ == name


def test_other_names_are_not() -> None:
    with pytest.raises(AttributeError, match="'nonsense'"):
        _ = sidehill.nonsense


def test_import_is_cheap() -> None:
    loaded = python("import sidehill, sys; print(*sys.modules)").split()
    assert not {"numpy", "numba", "pydantic", "pandas", "mujoco", "pybullet"} & set(loaded)
