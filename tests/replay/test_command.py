"""`sidehill replay` and `drive --replay`: a page, or one message and nothing written."""

from dataclasses import replace
from pathlib import Path

import pytest
from cli.runner import answer, refused, run
from film.posed import case_of, posed

from sidehill.run.record import save_record


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with records of all kinds."""
    monkeypatch.chdir(tmp_path)
    record = posed(case_of("bramble", "bank-stone"), [0.0] * 5)
    save_record(record, tmp_path / "a.parquet")
    whole = (tmp_path / "a.parquet").read_bytes()
    (tmp_path / "cut.parquet").write_bytes(whole[:5000])
    (tmp_path / "foreign.parquet").write_text("no record", encoding="utf-8")
    place = len(whole) // 3
    changed = whole[:place] + bytes([whole[place] ^ 1]) + whole[place + 1 :]
    (tmp_path / "changed.parquet").write_bytes(changed)
    steep = posed(case_of("bramble", "bank-stone", ["ground.slope=15 deg"]), [0.0] * 5)
    save_record(steep, tmp_path / "steep.parquet")
    urdf = record.meta["urdf"].replace("chassis", "body")
    save_record(replace(record, meta=record.meta | {"urdf": urdf}), tmp_path / "lost.parquet")
    return tmp_path


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("cut.parquet", "cut.parquet"),
        ("foreign.parquet", "not a record"),
        ("changed.parquet", "changed.parquet"),
        ("missing.parquet", "no such record"),
        ("lost.parquet", "chassis"),
        ("a.parquet " * 5, "5 runs; a replay shows 1 to 4"),
        ("a.parquet steep.parquet --ghosts", "differ in ground slope"),
        ("a.parquet --title x --title y", "2 titles for 1 runs"),
        ("a.parquet --option x", "--option, --set and --tyre are for a study"),
        ("demo", "up to 4 can be shown"),
    ],
)
def test_one_message_and_nothing_written(here: Path, line: str, told: str) -> None:
    before = sorted(here.iterdir())
    message = refused(f"replay {line} -o out.html")
    assert told in message and len(message.splitlines()) == 1
    assert sorted(here.iterdir()) == before


@pytest.mark.parametrize("name", ["out.pdf", "a.parquet"])
def test_another_ending_is_refused(here: Path, name: str) -> None:
    before = (here / "a.parquet").read_bytes()
    assert "must end in .html" in refused(f"replay a.parquet -o {name}")
    assert (here / "a.parquet").read_bytes() == before


def test_records_become_a_page_that_says_how_to_make_it_again(here: Path) -> None:
    line = 'replay a.parquet steep.parquet --title one --title "on the steep" --note "look here"'
    data = answer(f"{line} -o deep/both.html")
    assert data["titles"] == ["one", "on the steep"]
    text = (here / "deep" / "both.html").read_text(encoding="utf-8")
    assert len(text.encode()) == data["bytes"]
    assert "--title &#39;on the steep&#39; --note &#39;look here&#39;" in text
    assert "look here</p>" in text


def test_drive_writes_one_beside_its_record(here: Path) -> None:
    done = run("drive bramble bank-plain --engine compiled --replay --out driven")
    assert done.exit_code == 0, done.output
    text = (here / "driven" / "record.html").read_text(encoding="utf-8")
    assert "sidehill replay record.parquet --title Bramble -o record.html" in text
