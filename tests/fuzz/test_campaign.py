"""A small seeded part of the mutation campaign; `by_hand.py` runs the whole of it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from fuzz import files, laws, meaning, records, results
from fuzz.drawn import Drawn
from fuzz.files import Fate
from fuzz.judge import answered, judge, refused

from sidehill.case import Case
from sidehill.run.outcome import Outcome

Campaign = Callable[[int, int, Path], Iterator[Fate]]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("campaign", "seed", "count"),
    [(files.campaign, 5, 60), (records.campaign, 5, 60), (results.campaign, 5, 40)],
)
def test_mutated_files_are_answered_or_refused_by_name(
    campaign: Campaign, seed: int, count: int, folder: Path
) -> None:
    fates = list(campaign(seed, count, folder))
    wrong = [f"[{fate.done}] {fate.line}: {fate.wrong}" for fate in fates if fate.wrong]
    assert not wrong, "\n".join(wrong)
    assert any(fate.exit_code == 2 for fate in fates)
    assert any(fate.exit_code == 0 for fate in fates)
    assert len(fates) >= 0.8 * count  # some changes find nothing to change


@pytest.mark.parametrize(("seed", "count"), [(7, 24), pytest.param(8, 600, marks=pytest.mark.slow)])
def test_what_means_something_else_keeps_to_the_laws(seed: int, count: int, folder: Path) -> None:
    fates = list(meaning.campaign(seed, count, folder))
    wrong = [f"[{fate.done}] {fate.line}: {fate.wrong}" for fate in fates if fate.wrong]
    assert not wrong, "\n".join(wrong)
    tried = {fate.kind for fate in fates if fate.exit_code == 0}
    assert len(tried) >= len(laws.LAWS) - 2  # the dearest is drawn seldom


def test_the_laws_see_what_they_are_there_to_see(monkeypatch: pytest.MonkeyPatch) -> None:
    """A simulation that takes slope off, or looks at the side, is found out."""
    drawn = Drawn("sorrel", "bank-stone", ('ground.slope="12 deg"', 'run.step="2 ms"'), {}, "")
    honest = laws.outcome
    assert [law(drawn, Path()) for law in (laws.mirror, laws.irrelevant, laws.poses)] == [""] * 3

    def lopsided(case: Case) -> Outcome:
        ground = case.scenario.ground
        return honest(case.with_slope(ground.slope * (0.9 if ground.downhill == "left" else 1.0)))

    monkeypatch.setattr(laws, "outcome", lopsided)
    assert "against" in laws.mirror(drawn, Path())
    steep = replace(drawn, changes=('ground.slope="34 deg"', 'run.step="2 ms"'))
    monkeypatch.setattr(laws, "outcome", lambda case: honest(case.with_slope(0.5)))
    assert laws.steeper(steep, Path()) == ""
    flat = [honest(drawn.case.with_slope(0.9)), *[honest(drawn.case)] * 9]
    monkeypatch.setattr(laws, "outcome", lambda _: flat.pop(0))
    assert laws.steeper(steep, Path()).startswith("not started at 34.000 deg, ")


def test_the_judge_sees_what_it_is_there_to_see() -> None:
    assert "names no file" in refused("", "sidehill: weighed.mass: too much\n", "own.toml")
    assert "a refusal that is none" in refused("{}", "sidehill: own.toml: x\n", "own.toml")
    assert "control characters" in refused("", "sidehill: own.toml, line 1: \x1b[0m\n", "own.toml")
    assert refused("", "sidehill: own.toml, line 1: a.b = 3: no\n", "own.toml") == ""
    assert answered('{"x": NaN}') == "a number that is not finite"

    def facts(stability: str, progress: str) -> str:
        told = f'"stability": {stability}, "progress": {progress}, "peak_roll_deg": 3.0'
        return answered("{" + told + "}")

    assert facts('"fine"', '"across"') == "facts 'fine', 'across'"
    assert facts("null", "null") == "nothing known, with a peak roll"
    assert facts('"planted"', '"over"') == "facts that do not go together: planted, over"
    assert facts('"planted"', '"across"') == ""


def test_the_judge_sees_faults_and_hangs(monkeypatch: pytest.MonkeyPatch) -> None:
    def divide(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("sidehill.cli.tip.load_machine", divide)
    assert judge(["tip", "bramble"], "bramble")[1].startswith("exit 1: sidehill: internal fault")

    def wait(*_: object) -> None:
        while True:
            pass

    monkeypatch.setattr("sidehill.cli.tip.load_machine", wait)
    monkeypatch.setattr("fuzz.judge.LIMIT", 1)
    assert judge(["tip", "bramble"], "bramble") == (None, "no answer within 1 s")
