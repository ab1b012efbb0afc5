"""What the desk shows is what the terminal gives; a newer wish drops the older search."""

import json
import shlex
import time
from math import degrees
from typing import Any

import pytest
from cli.runner import run
from desk.conftest import asked, eventually

from sidehill.case import Case
from sidehill.desk import search
from sidehill.desk.commands import limit_line
from sidehill.desk.desk import Desk
from sidehill.desk.search import Searches
from sidehill.desk.strip_svg import strip_svg
from sidehill.files.errors import SidehillError
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.facts import STABILITY
from sidehill.scenario.file import load_scenario

STRIP = ("values", "stability", "progress", "met", "events", "resolution", "runs", "engine",
         "reference", "reference_differs_at", "unit", "of")  # fmt: skip


def case(spacer: str = "0 mm") -> Case:
    return Case(load_machine("sorrel"), load_scenario("bank-plain"), Outfit(rear_spacer=spacer))


def test_the_strip_is_the_one_that_the_command_beside_it_gives(working: Desk) -> None:
    line = limit_line(working.question, working.state, 0)
    result = run(line.removeprefix("sidehill "))
    assert result.exit_code == 0, result.output
    told: dict[str, Any] = json.loads(result.stdout)
    with asked(working) as client:
        shown = client.get("/strip/1").json()
    assert {name: shown[name] for name in STRIP} == {name: told[name] for name in STRIP}
    assert shown["resolution"]["scan"] == json.loads("0.5")
    assert shlex.split(line)[2:4] == ["bramble", "bank-plain"]


def test_every_slope_that_was_tried_is_a_cell_with_its_own_facts(working: Desk) -> None:
    found = working.found("1")
    assert found.strip is not None
    told = working.everything()["parts"]["options"]
    for spot in found.strip.spots:
        stability = spot.outcome.stability
        assert stability is not None
        start = told.index(f'data-way="1" data-value="{_degrees(spot.value)}"')
        cell = told[start : start + 500]
        words = (
            "it goes over on the way" if spot.outcome.progress == "over" else (STABILITY[stability])
        )
        assert words in cell


def _degrees(value: float) -> str:
    return repr(degrees(value))


def test_a_newer_wish_drops_the_older_search_before_its_next_run() -> None:
    heard: list[str] = []
    searches = Searches(heard.append)
    try:
        old = searches.want([case()])[0]
        eventually(lambda: searches.runs > 5, 300.0)
        new = searches.want([case("50 mm")])[0]
        begun = searches.runs
        eventually(lambda: searches.dropped == 1, 120.0)
        assert searches.runs - begun <= 4  # those that were being begun in the threads
        searches.want([])
        eventually(lambda: searches.dropped >= 1 and searches.left == 0)
        time.sleep(0.5)
        quiet = searches.runs
        time.sleep(0.5)
        assert searches.runs == quiet  # none runs on
        left, other = searches.found(old), searches.found(new)
        assert left is not None
        assert left.strip is None
        assert other is not None
    finally:
        searches.end()


def test_what_cannot_be_computed_is_said_and_the_next_is_looked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fails(*_: Any, **__: Any) -> None:
        raise SidehillError("no rest was found")

    monkeypatch.setattr(search, "take_strip", fails)
    searches = Searches(lambda key: None)
    try:
        keys = searches.want([case(), case("50 mm")])
        eventually(lambda: searches.left == 0, 300.0)
        for key in keys:
            found = searches.found(key)
            assert found is not None
            assert found.problem == "no rest was found"
            assert found.strip is None
            drawn = strip_svg(found, 0.1, None, "1")
            assert 'aria-label="not computed"' in drawn
            assert 'fill="url(#crossed)"' in drawn  # the face of what is not known, never white
    finally:
        searches.end()


def test_slopes_are_told_one_by_one_and_none_is_lost() -> None:
    """From two threads at once: each run adds itself, long before the first pass is over."""
    counts: list[int] = []
    kept: list[str] = []

    def heard(key: str) -> None:
        found = searches.found(key)
        if found is not None and found.strip is None:
            counts.append(len(found.spots))

    searches = Searches(heard)
    try:
        kept += searches.want([case()])
        strip = eventually(lambda: getattr(searches.found(kept[0]), "strip", None), 300.0)
        assert 1 in counts
        assert max(counts) >= len({spot.value for spot in strip.spots})
    finally:
        searches.end()


def test_a_replay_shows_hostile_names_as_text_under_its_own_policy(working: Desk) -> None:
    evil = '</script><img src=x onerror="alert(1)">'
    working.change([("options/1/name", evil)], False)
    try:
        with asked(working) as client:
            made = client.post("/replay", json={"way": "1", "value": "bank", "beside": ""})
            assert made.status_code == 200
            page = client.get(made.json()["page"])
        policy = page.headers["content-security-policy"]
        assert "<img src=x" not in page.text
        assert "sha256-" in policy
        assert "unsafe-inline" not in policy.split("script-src")[1].split(";")[0]
        assert "default-src 'none'" in policy
    finally:
        working.change([("options/1/name", "wider")], False)
