"""Which engine a name stands for, and what the compiled one refuses."""

import numpy as np
import pytest
from population import random_cases

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


@pytest.mark.parametrize("flaw", ["inertia", "com"])
def test_a_wheel_out_of_balance_is_refused(flaw: str) -> None:
    flat = flatten(random_cases(1)[0])
    field = flat.model[flaw][0, WHEEL_RL]
    field += 0.1 * np.diag([1.0, 0.0, 0.0]) if flaw == "inertia" else np.array([0.01, 0.0, 0.0])
    with pytest.raises(EngineError, match="wheel_rear_left"):
        open_engine("compiled", flat)
