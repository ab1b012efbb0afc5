"""The page as text: nothing from elsewhere, no markup out of names, the same every time."""

import base64
import hashlib
import json
import re
import zlib
from html.parser import HTMLParser
from math import ceil
from pathlib import Path

import pytest
from replay.conftest import NOTE, OUTFITS, TITLES

from sidehill.caution import CAUTION, NOT_MODELLED
from sidehill.files.errors import InputError
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.replay import replay
from sidehill.replay.script import WEB, needed, script
from sidehill.run.record import Record

LARGEST = 1.2e6  # [bytes] of two runs of 10 s


class Read(HTMLParser):
    """Tags and texts of a page, scripts by what they hold."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.scripts: list[str] = []
        self.words = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        tag, attrs = self.tags[-1] if self.tags else ("", {})
        if tag == "script" and "type" not in attrs:
            self.scripts.append(data)
        elif tag not in ("script", "style"):
            self.words += data


@pytest.fixture(scope="module")
def text(file: Path) -> str:
    return file.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def page(text: str) -> Read:
    return Read(text)


def test_names_and_note_stay_words(page: Read) -> None:
    assert TITLES[1] in page.words and NOTE in page.words
    assert not [attrs for tag, attrs in page.tags if attrs.get("src") == "x" or "onerror" in attrs]
    assert not [tag for tag, _ in page.tags if tag == "i"]
    assert len([1 for tag, _ in page.tags if tag == "script"]) == 4


def test_only_its_own_script_may_run(page: Read, text: str) -> None:
    """The policy names the hashes of the page's script and of the library, and nothing else."""
    policy = next(a["content"] for t, a in page.tags if a.get("http-equiv"))
    assert policy is not None and policy.startswith("default-src 'none'")
    library = re.search(r'id="library">([^<]*)<', text)
    assert library is not None
    inflated = zlib.decompress(base64.b64decode(library[1]))
    for code in (page.scripts[0].encode(), inflated):
        assert base64.b64encode(hashlib.sha256(code).digest()).decode() in policy
    assert "unsafe" not in policy and "http" not in policy


def test_nothing_points_elsewhere(page: Read) -> None:
    for _, attrs in page.tags:
        for name in ("src", "href"):
            assert (attrs.get(name) or "data:").startswith("data:")


def test_its_data_is_plain_json_under_a_checksum(text: str) -> None:
    found = re.search(r'id="data">([A-Za-z0-9+/=]+)</script>', text)
    assert found is not None
    data = json.loads(zlib.decompress(base64.b64decode(found[1])))
    assert [run["title"] for run in data["runs"]] == TITLES


def test_cautions_source_and_command_are_told(page: Read, runs: list[Record]) -> None:
    words = re.sub(r"\s+", " ", page.words)
    assert CAUTION in words and "for illustration" in words
    for told in (*NOT_MODELLED, "sidehill replay a.parquet", "invented", "MIT License"):
        assert told in words
    for record in runs:
        assert record.meta["key"] in words and record.meta["engine"] in words
    # what the roll bar, axle and share are past, of the heavier of the two: by sums of its own
    heaviest = max(fit(load_machine("bramble"), Outfit(**outfit)).mass for outfit in OUTFITS)
    assert f"{ceil(heaviest):,} kg" in words and "that the roll bar was tested for" in words
    for told in ("front axle, load: ", "rear axle, share with the bucket full: "):
        assert told in words


def test_it_never_calls_a_machine_safe(page: Read) -> None:
    assert not re.search(r"\bsafe(ly)?\b|\bcan take\b", page.words.lower())


def test_what_differs_is_told_in_words(page: Read) -> None:
    words = re.sub(r"\s+", " ", page.words)
    assert "bucket height" in words and "rear spacer" in words
    assert "76 mm (3.0 in)" in words
    assert "ground slope" not in words  # the same in both


def test_two_runs_are_small(file: Path) -> None:
    assert file.stat().st_size < LARGEST


def test_same_runs_same_text(file: Path, runs: list[Record], text: str) -> None:
    again = replay(runs, TITLES, note=NOTE, command="sidehill replay a.parquet")
    assert again == text


def test_no_module_is_long_or_left_out() -> None:
    modules = sorted(path.name for path in WEB.glob("*.js"))
    assert sorted(needed("main.js")) == modules
    for name in modules:
        assert (WEB / name).read_text(encoding="utf-8").count("\n") <= 150
    assert not re.search(r"innerHTML|insertAdjacent|document\.write|eval\(", script())


@pytest.mark.parametrize(
    ("titles", "note", "told"),
    [
        (["a"], None, "1 titles for 2 runs"),
        (["a", ""], None, "title ''"),
        (["a", "b\nc"], None, "on one line"),
        (["a", "b"], "x" * 401, "a note of 401 characters"),
        (["a", "b"], " ", "a note of 1 characters"),
    ],
)
def test_what_cannot_be_shown_is_refused(
    runs: list[Record], titles: list[str], note: str | None, told: str
) -> None:
    with pytest.raises(InputError, match=told):
        replay(runs, titles, note=note)
