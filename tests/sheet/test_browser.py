"""The sheet in a headless browser: nothing fetched, everything shown, readable, printable."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from markupsafe import Markup
from sheet.browser import (
    LAPTOP,
    MOST_PAGES,
    PAPER,
    PHONE,
    browser,
    complaints,
    first_pages,
    opened,
    printed_pages,
    violations,
)

from sidehill.sheet.findings import Findings
from sidehill.sheet.make import Sheet
from sidehill.sheet.moving import Moving, moving
from sidehill.sheet.page import page as build_page
from sidehill.sheet.turning import Turning

NO_REPLAY = Turning(Markup(), None)


@pytest.fixture(scope="module")
def page(made: Sheet, dealer: Sheet, folder: Path) -> Iterator[Any]:
    """The sheet with its film, opened."""
    with browser() as started:
        found = replace(made.found, wish=replace(made.found.wish, film="embed"))
        film = moving(found, folder / "sheet.html", lambda text: None)
        (folder / "sheet.html").write_bytes(build_page(found, film, made.replay, "sheet.html"))
        page = opened(started, folder / "sheet.html")
        page.sheets = {"small": found, "dealer": dealer.found, "wordy": wordy(dealer.found)}
        yield page


def test_nothing_is_said_or_fetched(page: Any, folder: Path) -> None:
    assert complaints(page, folder / "sheet.html") == []


def test_every_picture_is_shown_and_named(page: Any) -> None:
    pictures = page.evaluate(
        """() => [...document.querySelectorAll('main svg[role], main img')].map(e => ({
            width: e.naturalWidth || e.getBoundingClientRect().width,
            name: e.alt || e.getAttribute('aria-label') || ''}))"""
    )
    assert len(pictures) >= 6  # bank, strips, chart, sections, still, history, two polars
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
@pytest.mark.parametrize("which", ["small", "dealer", "wordy"])
def test_page_one_is_one_page_and_the_appendix_a_few(
    page: Any, dealer: Sheet, folder: Path, which: str, paper: str
) -> None:
    file = folder / f"{which}-print.html"
    found = page.sheets[which]
    file.write_bytes(build_page(found, _no_film(found, file), NO_REPLAY, file.name))
    other = opened(page.context.browser, file)
    assert first_pages(other, paper) == 1
    assert 2 <= printed_pages(other, paper) <= MOST_PAGES
    other.close()


def _no_film(found: Findings, file: Path) -> Moving:
    return moving(replace(found, wish=replace(found.wish, film="none")), file, lambda text: None)


def wordy(found: Findings) -> Findings:
    """The same with every name as long as a file may make it."""
    long = {name: f"{name} and a great many more words about it than anybody needs"[:60]
            for name in found.looks.options}  # fmt: skip
    options = tuple(replace(o, name=long[o.name]) for o in found.study.options)
    looks = {long[n]: replace(look, name=long[n]) for n, look in found.looks.options.items()}
    renamed = [replace(o, option=long[o.option]) for o in found.ranking.options]
    to_buy = [replace(o, look=looks[long[o.look.name]]) for o in found.answer.to_buy]
    return replace(
        found,
        study=replace(found.study, options=options),
        looks=replace(found.looks, options=looks),
        ranking=replace(found.ranking, options=tuple(renamed)),
        answer=replace(found.answer, to_buy=tuple(to_buy)),
        standing={long[name]: value for name, value in found.standing.items()},
        fits={long[name]: value for name, value in found.fits.items()},
        driven={long[name]: value for name, value in found.driven.items()},
        shown=replace(
            found.shown, records={long.get(n, n): r for n, r in found.shown.records.items()}
        ),
        apart=replace(
            found.apart,
            new={long[n]: v for n, v in found.apart.new.items()},
            warned_too={long[n]: v for n, v in found.apart.warned_too.items()},
        ),
    )


def test_no_letter_of_page_one_is_printed_smaller_than_nine_points(page: Any) -> None:
    page.emulate_media(media="print")
    try:
        smallest = page.evaluate(
            """() => Math.min(...[...document.querySelectorAll('.first *')]
                .filter(e => !e.closest('svg') && [...e.childNodes].some(
                    n => n.nodeType === 3 && n.textContent.trim()))
                .map(e => parseFloat(getComputedStyle(e).fontSize)))"""
        )
        assert smallest >= 12.0 - 1e-6  # [px] nine points
    finally:
        page.emulate_media(media="screen")


@pytest.mark.parametrize("hatch", ["slanted", "dotted", "crossed"])
def test_a_hatch_is_drawn_on_a_phone_too(page: Any, hatch: str) -> None:
    """It hides what is not across otherwise: its pattern must not sit in what a phone hides."""
    page.set_viewport_size(PHONE)
    try:
        place = f"document.getElementById('{hatch}')"
        assert page.evaluate(f"getComputedStyle({place}.ownerSVGElement).display") != "none"
        assert page.evaluate(f"!{place}.closest('thead')")
    finally:
        page.set_viewport_size(LAPTOP)


@pytest.mark.parametrize("viewport", [PHONE, LAPTOP], ids=["phone", "laptop"])
def test_axe_finds_nothing(page: Any, viewport: dict[str, int]) -> None:
    page.set_viewport_size(viewport)
    try:
        assert violations(page) == []
    finally:
        page.set_viewport_size(LAPTOP)
