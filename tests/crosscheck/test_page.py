"""The page and the README table: self-contained, escaped, the same cells as everywhere."""

import re
from dataclasses import replace
from html.parser import HTMLParser
from xml.etree import ElementTree as ET

import pytest
from crosscheck.subjects import loaded, without

from sidehill.caution import CAUTION
from sidehill.crosscheck.check import Result
from sidehill.crosscheck.checks import stages
from sidehill.crosscheck.examples import CODE6_1
from sidehill.crosscheck.fallen import fallen
from sidehill.crosscheck.ladder import Ladder, climb
from sidehill.crosscheck.ladder_words import outfit_words, page_words, picture_lines
from sidehill.crosscheck.measured import Effects
from sidehill.crosscheck.page import page
from sidehill.crosscheck.published_words import about, published_words, row, summary
from sidehill.crosscheck.readme import BEGIN, END, refreshed
from sidehill.crosscheck.unread import Cornering
from sidehill.files.errors import InputError
from sidehill.machine.outfit import Outfit
from sidehill.picture.ladder import ladder_picture
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import Subject, load_subject

VOID = {"meta", "br"}
CORNERS = (
    Cornering("sorrel", 3.0, 3.97, "on_stop, across"),
    Cornering("hawthorn", 8.0, None, "planted, slid"),
)
EFFECTS = (Effects("standard", 0.0, 27.18, -5.6, -4.3, 0.8, 2.57, 0.067),)


class Balanced(HTMLParser):
    """Every element that opens closes, in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: object) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def read_page(data: bytes) -> str:
    """Its text, spaces made one; the markup is checked on the way."""
    parser = Balanced()
    parser.feed(data.decode("utf-8"))
    parser.close()
    assert parser.open == []
    return re.sub(r"\s+", " ", " ".join(parser.text))


def quick(subject: Subject) -> Ladder:
    return climb(subject, load_scenario("bank-stone"), statics_only=True)


@pytest.fixture(scope="module")
def ladder() -> Ladder:
    return quick(loaded("bramble"))


@pytest.fixture(scope="module")
def results() -> tuple[Result, ...]:
    return tuple(check.run() for check in stages.CHECKS[:4])


def test_the_page_of_a_ladder(ladder: Ladder) -> None:
    words = page_words(ladder)
    text = read_page(page("Bramble", words))
    assert CAUTION in text
    for rung in ladder.rungs:
        assert rung.name in text
        assert rung.assumption in text
        assert rung.fails in text
    assert "8.0 deg (14 %) [9.7 deg (17 %)]" in text  # the lower bound, the best in brackets
    assert "statics only were asked for" in text
    assert "bucket height full, bucket load 252 kg" in text
    for word in ("safe", "can take", "permits"):
        assert not re.search(rf"\b{word}\b", text)


def test_the_page_of_published_values(results: tuple[Result, ...]) -> None:
    words = published_words(results, fallen(CODE6_1), EFFECTS, CORNERS, 17.18)
    text = read_page(page("Published values", published=words))
    for result in results:
        assert result.quantity in text
        assert result.source in text
    assert "4 values: all pass; 0 published, 0 memory, 4 derived, 0 common practice, 0 not" in text
    assert "No value of this table is a tip angle measured on a tractor" in text
    assert "3.9 m/s2 on_stop, across" in text  # rounded down
    assert "not up to the fastest tried planted, slid" in text
    assert "above 20 deg from 17.1 deg (30 %)" in text
    assert "Majdan" in text and "NOT COMPARABLE" in text


def test_a_page_loads_nothing(ladder: Ladder) -> None:
    data = page("x", page_words(ladder)).decode()
    assert not re.search(r"""(?:src|href)\s*=\s*["'](?!#)""", data.replace("xlink:href", "href"))
    assert "url(http" not in data
    assert "<script" not in data


def test_names_are_escaped(ladder: Ladder, tmp_path) -> None:
    path = without("sorrel", tmp_path)
    evil = '<script>alert("x")</script> &amp;'
    named = path.read_text(encoding="utf-8").replace('name = "Sorrel"', f"name = '{evil}'")
    path.write_text(named, encoding="utf-8")
    subject = load_subject(path, Outfit())
    other = replace(ladder, subject=subject)
    data = page(evil, page_words(other))
    assert b"<script" not in data
    assert evil in read_page(data)


def test_the_picture_is_the_same_bytes_and_shows_every_rung(ladder: Ladder) -> None:
    lines = picture_lines(ladder.rungs)
    first, second = (ladder_picture(lines, "<b>") for _ in range(2))
    assert first == second
    texts = [node.text for node in ET.fromstring(first).iter("{http://www.w3.org/2000/svg}text")]
    for rung in ladder.rungs:
        assert rung.name in texts
    assert "-18.63°" in texts
    assert "<b>" in texts  # escaped in the file


def test_what_cannot_be_computed_is_drawn_and_told_as_that(tmp_path) -> None:
    lost = ("rear_tyre.stiffness", "rear_tyre.pressure")
    lame = quick(load_subject(without("bramble", tmp_path, *lost), Outfit()))
    words = page_words(lame)
    assert words["picture"].count("could not compute") == 5
    text = read_page(page("x", words))
    assert "could not compute: rear_tyre.stiffness is missing from" in text


def test_outfits_in_words() -> None:
    assert outfit_words(Outfit()) == "as delivered"
    assert outfit_words(Outfit(rear_spacer="3 in", rops="folded", rear_fill=0.75)) == (
        "rear fill 0.75, rear spacer 0.0762 m, rops folded"
    )


def failed(result: Result) -> Result:
    return replace(result, computed=float("nan"), difference=float("nan"), passed=False, note="so")


def test_a_fail_is_told_as_a_fail(results: tuple[Result, ...]) -> None:
    mixed = (failed(results[0]), *results[1:])
    assert about(mixed).startswith("4 values: 1 FAIL; ")
    assert row(mixed[0])["result"] == "FAIL"
    assert row(mixed[0])["computed"] == "could not compute"
    assert summary(mixed)[0][-1] == "1 FAIL"
    words = published_words(mixed, fallen(CODE6_1), EFFECTS, CORNERS, 17.18)
    assert "FAIL : so" in read_page(page("x", published=words)).replace("FAIL:", "FAIL :")


def test_a_value_to_which_a_constant_was_fitted_is_shown_and_not_counted(
    results: tuple[Result, ...],
) -> None:
    own = (replace(results[0], is_fitted=True), replace(results[1], status="published"))
    assert about(own) == (
        "2 values: all pass; 1 published, 0 memory, 0 derived, 0 common practice, 1 not counted"
    )
    assert row(own[0])["status"] == "derived, not counted"
    assert summary(own)[0][:6] == ["Two-stage tip", "1", "", "", "", "1"]


def test_the_readme_is_refreshed_between_its_marks(results: tuple[Result, ...], tmp_path) -> None:
    path = tmp_path / "README.md"
    path.write_text(f"# Title\n\n{BEGIN}\nold\n{END}\n\nafter\n", encoding="utf-8")
    once = refreshed(path, results)
    path.write_bytes(once)
    text = once.decode()
    assert text.startswith(f"# Title\n\n{BEGIN}\n4 values: all pass")
    assert text.endswith(f"{END}\n\nafter\n")
    assert "old" not in text
    assert "| Two-stage tip |  |  | 4 |  |  |" in text
    assert refreshed(path, results) == once


@pytest.mark.parametrize(
    "content",
    ["no marks", f"{BEGIN}\n", f"{END}\n{BEGIN}\n", f"{BEGIN}\n{END}\n{BEGIN}\n{END}\n", None],
)
def test_a_readme_without_one_block_is_refused(content, results, tmp_path) -> None:
    path = tmp_path / "README.md"
    if content is not None:
        path.write_text(content, encoding="utf-8")
    with pytest.raises(InputError, match=r"README\.md"):
        refreshed(path, results)
