"""MuJoCo through its C function does what it does through its module."""

import numpy as np
import pytest
from population import random_cases

from sidehill.engines import mujoco
from sidehill.run import run


def test_its_function_is_found() -> None:
    """Without it the slow loop would run unnoticed."""
    assert mujoco.step_address() is not None


def test_both_loops_write_the_same_bits(monkeypatch: pytest.MonkeyPatch) -> None:
    for case in random_cases(3, seed=29):
        fast = run(case, "mujoco")
        with monkeypatch.context() as patch:
            patch.setattr(mujoco, "step_address", lambda: None)
            slow = run(case, "mujoco")
        assert np.array_equal(fast.state.view(float), slow.state.view(float))
        assert fast.written().tobytes() == slow.written().tobytes()
