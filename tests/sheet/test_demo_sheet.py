"""The demo's own sheet, nothing left out: about two minutes on two idle cores."""

from pathlib import Path

import pytest
from sheet.browser import (
    MOST_PAGES,
    PAPER,
    browser,
    complaints,
    first_pages,
    opened,
    printed_pages,
    violations,
)

from sidehill.sheet.make import make_sheet
from sidehill.sheet.wish import Wish
from sidehill.study.study import load_study


@pytest.mark.slow
def test_all_sixteen_options_are_shown_read_and_printed(tmp_path: Path) -> None:
    file = tmp_path / "demo.html"
    file.write_bytes(make_sheet(load_study("demo"), file, Wish(tmp_path / "records")).html)
    with browser() as started:
        page = opened(started, file)
        assert complaints(page, file) == []
        assert violations(page) == []
        for paper in PAPER:
            assert first_pages(page, paper) == 1
            assert 2 <= printed_pages(page, paper) <= MOST_PAGES
