"""Which engine a name stands for, and what the compiled one refuses."""

from importlib.util import find_spec as find
from pathlib import Path

import numpy as np
import pytest
from cli.runner import refused, run
from population import random_cases

from sidehill import engines
from sidehill.engines import NAMES, choose, open_engine
from sidehill.files.errors import EngineError
from sidehill.flat import flatten
from sidehill.kernels.layout import WHEEL_RL


def test_compiled_is_an_engine_that_needs_nothing_installed() -> None:
    assert "compiled" in NAMES
    assert choose("compiled") == "compiled"


def test_unknown_engines_are_refused_with_the_known_ones() -> None:
    with pytest.raises(EngineError, match="compiled"):
        choose("steam")


def test_where_pybullet_has_no_wheel_auto_is_mujoco_and_says_so(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """As on Linux aarch64, macOS, Windows and Python 3.12, where it is not installed."""
    there = {"mujoco": find("mujoco"), "pybullet": None}
    monkeypatch.setattr(engines, "find_spec", there.get)
    monkeypatch.chdir(tmp_path)
    assert engines.here() == ("mujoco", "compiled")
    assert (choose("auto"), choose("auto", many=True)) == ("mujoco", "compiled")
    said = run("drive sorrel bank-plain --set course.length=5m")
    assert said.exit_code == 0 and "engine mujoco" in said.output
    missing = refused("drive sorrel bank-plain --engine pybullet")
    for told in ("'pybullet' is not installed here", "--engine auto", "'sidehill[pybullet]'"):
        assert told in missing


@pytest.mark.parametrize("flaw", ["inertia", "com"])
def test_a_wheel_out_of_balance_is_refused(flaw: str) -> None:
    flat = flatten(random_cases(1)[0])
    field = flat.model[flaw][0, WHEEL_RL]
    field += 0.1 * np.diag([1.0, 0.0, 0.0]) if flaw == "inertia" else np.array([0.01, 0.0, 0.0])
    with pytest.raises(EngineError, match="wheel_rear_left"):
        open_engine("compiled", flat)
