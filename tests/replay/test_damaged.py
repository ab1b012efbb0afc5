"""A page that was damaged on its way: its runs are refused with a sentence, never drawn wrong."""

import json
import random
import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from replay.screen import WITHOUT_3D, ready
from sheet.browser import browser, opened

from sidehill.replay.script import WEB

READER = Path(__file__).with_name("read_page.mjs")
LETTERS = '0123456789abcdefXYZ+/="{}[],:-. &'


def text_of(page: str, part: str) -> str:
    found = re.search(rf'id="{part}">([^<]*)</script>', page)
    assert found is not None
    return found[1]


def damages(page: str, count: int, seed: int) -> list[dict[str, Any]]:
    """One letter another, some lost, the end cut off, some twice: in either text of the runs."""
    rng, drawn = random.Random(seed), []
    texts = {part: text_of(page, part) for part in ("data", "tables")}
    for _ in range(count):
        part = rng.choice(("data", "tables"))
        text = texts[part]
        start = rng.randrange(len(text))
        some = start + rng.randint(1, 40)
        end, put = {
            "letter": (start + 1, rng.choice(LETTERS)),
            "lost": (some, ""),
            "cut": (len(text), ""),
            "twice": (start, text[start:some]),
        }[rng.choice(("letter", "letter", "letter", "lost", "cut", "twice"))]
        if text[start:end] == put:
            put = "#"
        drawn.append({"id": part, "from": start, "to": end, "put": put})
    return drawn


def read_again(file: Path, folder: Path, count: int, seed: int) -> Counter[str]:
    """What the page's own modules make of that many damaged pages."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("no node on the path; Debian and Ubuntu: apt-get install nodejs")
    web = shutil.copytree(WEB, folder / "web")
    (web / "package.json").write_text('{"type": "module"}')
    lines = [json.dumps(damage) for damage in damages(file.read_text("utf-8"), count, seed)]
    done = subprocess.run(
        [node, str(READER), str(web), str(file)],
        input="\n".join(lines), capture_output=True, text=True, check=True,
    )  # fmt: skip
    return Counter(done.stdout.split())


def test_damaged_runs_are_refused_or_read_as_they_were(file: Path, tmp_path: Path) -> None:
    said = read_again(file, tmp_path, 200, seed=1)
    assert said["other"] == 0 and said["refused"] > 150 and said.total() == 200, said


@pytest.mark.slow
def test_2000_damaged_pages_are_refused_or_read_as_they_were(file: Path, tmp_path: Path) -> None:
    said = read_again(file, tmp_path, 2000, seed=2)
    assert said["other"] == 0 and said["refused"] > 1500 and said.total() == 2000, said


def test_a_damaged_page_says_so_and_keeps_its_stills(file: Path, tmp_path: Path) -> None:
    whole = file.read_text("utf-8")
    data = text_of(whole, "data")
    letter = "A" if data[len(data) // 2] != "A" else "B"
    broken = data[: len(data) // 2] + letter + data[len(data) // 2 + 1 :]
    damaged = tmp_path / "damaged.html"
    damaged.write_text(whole.replace(data, broken), "utf-8")
    with browser(*WITHOUT_3D) as started:
        page = ready(started, damaged)
        assert page.evaluate("document.documentElement.dataset.ready") == "bare"
        assert "this file is damaged" in page.locator("#told").inner_text()
        assert page.locator(".sheet img").first.bounding_box()["width"] > 200
        assert not page.evaluate("'replay' in window")
        damaged.write_text(whole[: whole.index(data)], "utf-8")
        cut = opened(started, damaged)
        assert "damaged or cut short" in cut.locator("#told").inner_text()
        assert cut.locator("#told-happened").is_visible()
