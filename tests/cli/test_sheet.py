"""The command `sheet`: its file, its JSON, what it refuses before anything is run."""

from pathlib import Path

import pytest
from cli.runner import answer, refused, run

STUDY = """
title = "One way"
machine = "bramble"
scenario = "bank-plain"
[[option]]
name = "as delivered"
"""


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "one.toml"
    path.write_text(STUDY, encoding="utf-8")
    return path


def test_json_and_a_file(study: Path, tmp_path: Path) -> None:
    page = tmp_path / "one.html"
    found = answer(f'sheet {study} -o {page} --quick --film none --replay none --want "12 deg"')
    assert found["files"] == [str(page)]
    assert found["enough_for_deg"] == pytest.approx(12.0)
    assert found["slope_deg"] == pytest.approx(10.0)
    assert [option["option"] for option in found["options"]] == ["as delivered"]
    assert found["answer"][0].startswith("On this bank, as delivered")
    assert [way["group"] for way in found["ways"]] == ["as delivered", "costs nothing"]
    assert found["caution"].startswith("A model compares")
    assert "for a bank of" in page.read_text(encoding="utf-8")
    assert len(list((tmp_path / "records").glob("*.parquet"))) >= 1


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ("-o x.txt", "must end in .html"),
        ("-o x.html --film maybe", "--film maybe: allowed: embed, link, none"),
        ("-o x.html --replay both", "--replay both: allowed: embed, link, none"),
        ('-o x.html --want "12"', "--want 12: a bare number"),
        ('-o x.html --want "-3 deg"', "more than 0 deg"),
        ("-o x.html --engine steam", "engine 'steam' is not known"),
    ],
)
def test_bad_options_are_refused(
    options: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert words in refused(f"sheet demo {options}")


def test_a_tilt_table_is_refused(study: Path, tmp_path: Path) -> None:
    study.write_text(STUDY.replace("bank-plain", "tilt-table"), encoding="utf-8")
    assert "a tilt table" in refused(f"sheet {study} -o {tmp_path / 'x.html'}")


def test_help_has_examples() -> None:
    result = run("sheet --help")
    assert result.exit_code == 0
    assert "sidehill sheet demo -o demo.html" in result.output
