"""Headless Chromium for the tests of pages: where it is, and why it is not."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


@contextmanager
def browser() -> Iterator[Any]:
    """A browser; the test is skipped where there is none."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if CHROMIUM is None:
        pytest.skip("no chromium on the path; Debian and Ubuntu: apt-get install chromium")
    with playwright.sync_playwright() as run:
        started = run.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        try:
            yield started
        finally:
            started.close()
