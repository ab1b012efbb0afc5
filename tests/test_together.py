"""The table of tests that run in one worker names tests that there are."""

from pathlib import Path

import pytest
from together import TOGETHER, group

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize("start", TOGETHER)
def test_it_names_tests(start: str) -> None:
    place, _, name = start.partition("::")
    assert (ROOT / place).exists()
    assert not name or f"def {name}" in (ROOT / place).read_text(encoding="utf-8")


def test_what_shares_nothing_runs_anywhere() -> None:
    name = "tests/units/test_show.py::test_it"
    assert group(name) == name
    assert group("tests/sheet/test_page.py::test_it") == "sheet"
