"""Headless Chromium for the tests of pages: where it is, why it is not, what it tells."""

import re
import shutil
from collections.abc import Iterator, Set
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

MOST_PAGES = 6  # page one and the appendix
PAPER = ("A4", "Letter")
PHONE, LAPTOP = {"width": 390, "height": 844}, {"width": 1280, "height": 900}
# WCAG 2 A and AA, and what axe holds to be good practice
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")


@contextmanager
def browser(*flags: str) -> Iterator[Any]:
    """A browser, started with flags; the test is skipped where there is none."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if CHROMIUM is None:
        pytest.skip("no chromium on the path; Debian and Ubuntu: apt-get install chromium")
    with playwright.sync_playwright() as run:
        started = run.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", *flags])
        try:
            yield started
        finally:
            started.close()


def opened(started: Any, file: Path) -> Any:
    """A page of the file; what it said and asked for is kept in `page.told`."""
    page = started.new_page(viewport=LAPTOP)
    page.told = []
    page.on("console", lambda message: page.told.append(f"console: {message.text}"))
    page.on("pageerror", lambda error: page.told.append(f"error: {error}"))
    page.on("request", lambda request: page.told.append(f"request: {request.url[:200]}"))
    page.goto(file.as_uri())
    page.wait_for_load_state("networkidle")
    return page


def complaints(page: Any, file: Path) -> list[str]:
    """What it said, and what it asked for beyond itself."""
    own = f"request: {file.as_uri()}"
    assert own in page.told
    return [line for line in page.told if line != own and not line.startswith("request: data:")]


def printed_pages(page: Any, paper: str) -> int:
    printed = page.pdf(format=paper, print_background=True)
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


def first_pages(page: Any, paper: str) -> int:
    """Printed pages that page one takes: the appendix left out."""
    page.add_style_tag(content=".appendix { display: none !important; }")
    printed = page.pdf(format=paper, print_background=True)
    page.evaluate("document.head.lastElementChild.remove()")
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


def violations(
    page: Any, checked: Set[str] = frozenset({"color-contrast", "image-alt"})
) -> list[Any]:
    """What axe-core finds: the open accessibility engine, as its package brings it, no network.

    `checked`: rules of its that must have found something to pass, or it looked at nothing.
    """
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe installed")
    found = axe.Axe().run(page, options={"runOnly": {"type": "tag", "values": TAGS}}).response
    assert checked <= {item["id"] for item in found["passes"]}
    return [
        (item["id"], [node["html"][:120] for node in item["nodes"]][:3])
        for item in found["violations"]
    ]
