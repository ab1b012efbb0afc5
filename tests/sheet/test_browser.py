"""The sheet in a headless browser: nothing fetched, everything shown, readable, printable."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sheet.browser import (
    LAPTOP,
    MOST_PAGES,
    PAPER,
    PHONE,
    browser,
    complaints,
    opened,
    printed_pages,
    violations,
)

from sidehill.sheet.make import Sheet
from sidehill.sheet.moving import moving
from sidehill.sheet.page import page as build_page


@pytest.fixture(scope="module")
def page(made: Sheet, folder: Path) -> Iterator[Any]:
    """The sheet with its film, opened."""
    with browser() as started:
        found = replace(made.found, wish=replace(made.found.wish, film="embed"))
        film = moving(found, folder / "sheet.html", lambda text: None)
        (folder / "sheet.html").write_bytes(build_page(found, film, "sheet.html"))
        yield opened(started, folder / "sheet.html")


def test_nothing_is_said_or_fetched(page: Any, folder: Path) -> None:
    assert complaints(page, folder / "sheet.html") == []


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
    assert 1 <= printed_pages(page, paper) <= MOST_PAGES


@pytest.mark.parametrize("viewport", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_axe_finds_nothing(page: Any, viewport: dict[str, int]) -> None:
    page.set_viewport_size(viewport)
    try:
        assert violations(page) == []
    finally:
        page.set_viewport_size(LAPTOP)
