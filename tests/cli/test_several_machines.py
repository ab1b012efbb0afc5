"""A study of several machines, where one is shown: refused in words, and nothing is written."""

from pathlib import Path

import pytest
from cli.runner import answer, refused

import sidehill as sh

STUDY = """
title = "Two machines on one bank"
machine = "bramble"
scenario = "bank-plain"
[[option]]
name = "as delivered"
[[option]]
name = "wide"
rear_spacer = "76 mm"
[vary]
machine = ["hawthorn", "sorrel"]
"run.step" = ["2 ms"]
"""
SAID = "is of 2 machines (Hawthorn, Sorrel), and what is asked for shows one"


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "two.toml"
    path.write_text(STUDY, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "line",
    [
        "film {}", "film {} --option wide", "film {} --gif", "film {} --still 2",
        "film {} --stills stills", "replay {}", "replay {} --option wide -o r.html",
        "sheet {} -o s.html",
    ],
)  # fmt: skip
def test_what_shows_one_machine_refuses_several(line: str, study: Path) -> None:
    """It took the first one, which would have stood for the other."""
    before = sorted(study.parent.rglob("*"))
    message = refused(line.format(study.name))
    assert SAID in message and "sidehill sweep" in message and "two.toml" in message
    assert [path for path in study.parent.rglob("*") if path.is_file()] == [study]
    assert set(before) <= set(study.parent.rglob("*"))


def test_the_same_from_python_and_what_is_offered_instead_works(study: Path) -> None:
    loaded = sh.load_study(study)
    with pytest.raises(sh.InputError, match=r"is of 2 machines \(Hawthorn, Sorrel\)"):
        sh.compare(loaded, engine="compiled")
    assert answer(f"sweep {study.name} --engine compiled")["cases"] == 4
    table = sh.load_results("sidehill-two").table()
    assert table.groupby("machine").size().to_dict() == {"hawthorn": 2, "sorrel": 2}
