"""The shown runs as a replay of the sheet: in it, beside it, or not at all."""

from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from replay.screen import DRAWN
from sheet.browser import browser, complaints, opened

from sidehill.replay import replay
from sidehill.sheet.findings import Findings
from sidehill.sheet.make import Sheet
from sidehill.sheet.page import page
from sidehill.sheet.turning import Turning, turning
from sidehill.sheet.wish import Place


class Frames(HTMLParser):
    """What a page's frames hold, and their attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.frames: list[dict[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.frames += [dict(attrs)] if tag == "iframe" else []


def asked(made: Sheet, place: Place) -> Findings:
    return replace(made.found, wish=replace(made.found.wish, replay=place))


@pytest.fixture(scope="module")
def linked(made: Sheet, folder: Path) -> Turning:
    return turning(asked(made, "link"), folder / "the sheet.html", lambda text: None)


def test_beside_the_sheet_it_is_a_file_of_its_own(linked: Turning, folder: Path) -> None:
    assert linked.file == folder / "the sheet-replay.html" and linked.file.is_file()
    assert 'href="the%20sheet-replay.html"' in linked.markup
    assert "keep it beside" in linked.markup


def test_in_the_sheet_it_is_the_same_page_and_reaches_nothing_of_it(
    made: Sheet, linked: Turning, folder: Path
) -> None:
    """The frame may run scripts of its own origin only, which is none."""
    found = asked(made, "embed")
    told = turning(found, folder / "the sheet.html", lambda text: None)
    frames = Frames()
    frames.feed(page(found, made.film, told, "the sheet.html").decode("utf-8"))
    (frame,) = frames.frames
    assert frame["sandbox"] == "allow-scripts" and frame["title"]
    records = found.shown.records
    assert linked.file is not None
    text = linked.file.read_text(encoding="utf-8").replace(" --replay link", "")
    assert frame["srcdoc"] == text
    assert replay(list(records.values()), list(records))[:200] == text[:200]
    _is_drawn_in_a_browser(folder / "framed.html", page(found, made.film, told, "framed.html"))


def _is_drawn_in_a_browser(file: Path, html: bytes) -> None:
    file.write_bytes(html)
    with browser(*DRAWN) as started:
        seen: Any = opened(started, file)
        frame = seen.locator("iframe")
        frame.scroll_into_view_if_needed()
        inside = frame.element_handle().content_frame()
        inside.wait_for_selector("html[data-ready=drawn]", state="attached", timeout=60_000)
        assert inside.locator("canvas").count() >= 1
        assert [line for line in complaints(seen, file) if "about:srcdoc" not in line] == []


def test_none_is_none(made: Sheet, folder: Path) -> None:
    told = turning(asked(made, "none"), folder / "bare.html", lambda text: None)
    assert told == Turning("", None)
    assert not (folder / "bare-replay.html").exists()
