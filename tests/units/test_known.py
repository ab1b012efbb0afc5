"""What is not known goes out as None, wherever it stands, and nothing else does."""

import json
from math import inf, nan, pi

import numpy as np
import pytest

from sidehill.files.known import known, known_degrees, plain


@pytest.mark.parametrize("value", [nan, inf, -inf, np.float64("nan"), None])
def test_a_number_that_is_not_one_is_none(value: float | None) -> None:
    assert known(value) is None


def test_numbers_stay_as_they_are() -> None:
    assert known(0.0) == 0.0
    assert known(-1.5) == -1.5
    assert known_degrees(pi) == pytest.approx(180.0)
    assert known_degrees(nan) is None


def test_tables_in_lists_in_tables() -> None:
    value = {"a": [1, nan, {"b": (inf, "nan", True, None, 2.5)}], "c": np.float64(3.0)}
    wanted = {"a": [1, None, {"b": [None, "nan", True, None, 2.5]}], "c": 3.0}
    assert plain(value) == wanted
    assert json.loads(json.dumps(plain(value), allow_nan=False)) == wanted
