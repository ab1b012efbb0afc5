"""The sheet in a headless browser: nothing fetched, everything shown, readable, printable."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sheet.browser import browser

from sidehill.sheet.make import Sheet
from sidehill.sheet.moving import moving
from sidehill.sheet.page import page as build_page

MOST_PAGES = 3
PAPER = ("A4", "Letter")
PHONE, LAPTOP = {"width": 390, "height": 844}, {"width": 1280, "height": 900}
# WCAG 2 A and AA, and what axe holds to be good practice
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]


@pytest.fixture(scope="module")
def page(made: Sheet, folder: Path) -> Iterator[Any]:
    """The sheet with its film, opened; what it said and asked for is kept in `page.told`."""
    with browser() as started:
        found = replace(made.found, wish=replace(made.found.wish, film="embed"))
        film = moving(found, folder / "sheet.html", lambda text: None)
        (folder / "sheet.html").write_bytes(build_page(found, film, "sheet.html"))
        opened = started.new_page(viewport=LAPTOP)
        opened.told = []
        opened.on("console", lambda message: opened.told.append(f"console: {message.text}"))
        opened.on("pageerror", lambda error: opened.told.append(f"error: {error}"))
        opened.on("request", lambda request: opened.told.append(f"request: {request.url[:80]}"))
        opened.goto((folder / "sheet.html").as_uri())
        opened.wait_for_load_state("networkidle")
        yield opened


def test_nothing_is_said_or_fetched(page: Any, folder: Path) -> None:
    own = f"request: {(folder / 'sheet.html').as_uri()}"[:89]
    others = [line for line in page.told if not line.startswith((own, "request: data:"))]
    assert any(line.startswith(own) for line in page.told)
    assert others == []


def test_every_picture_is_shown_and_named(page: Any) -> None:
    pictures = page.evaluate(
        """() => [...document.querySelectorAll('main svg, main img')].map(e => ({
            width: e.naturalWidth || e.getBoundingClientRect().width,
            name: e.alt || e.getAttribute('aria-label') || ''}))"""
    )
    assert len(pictures) >= 6  # chart, sections, still, history, two polars
    for picture in pictures:
        assert picture["width"] > 100
        assert len(picture["name"]) > 20


def test_the_film_plays(page: Any) -> None:
    reached = page.evaluate(
        """async () => { const film = document.querySelector('video');
            film.muted = true; await film.play();
            await new Promise(done => { film.ontimeupdate = () => film.currentTime > 0.3 && done();
                                        setTimeout(done, 8000); });
            film.pause(); return [film.currentTime, film.videoWidth, film.duration]; }"""
    )
    assert reached[0] > 0.3
    assert reached[1] == 640
    assert reached[2] > 5.0


def test_nothing_sticks_out_on_a_phone(page: Any) -> None:
    page.set_viewport_size(PHONE)
    try:
        assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    finally:
        page.set_viewport_size(LAPTOP)


@pytest.mark.parametrize("paper", PAPER)
def test_it_prints_on_one_to_three_pages(page: Any, paper: str) -> None:
    printed = page.pdf(format=paper, print_background=True)
    pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))
    assert 1 <= pages <= MOST_PAGES


@pytest.mark.parametrize("viewport", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_axe_finds_nothing(page: Any, viewport: dict[str, int]) -> None:
    """axe-core, the open accessibility engine, as its package brings it: no network."""
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="no axe installed")
    page.set_viewport_size(viewport)
    try:
        found = axe.Axe().run(page, options={"runOnly": {"type": "tag", "values": TAGS}})
    finally:
        page.set_viewport_size(LAPTOP)
    told = [
        (item["id"], [node["html"][:120] for node in item["nodes"]][:3])
        for item in found.response["violations"]
    ]
    assert told == []
    assert {"color-contrast", "image-alt", "html-has-lang"} & {
        item["id"] for item in found.response["passes"]
    }
