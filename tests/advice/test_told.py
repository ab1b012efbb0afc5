"""Warnings of several as one list: nothing milder than the worst, nobody left out."""

from typing import Any

import pytest
from cli.runner import answer, run

from sidehill.advice.told import said_once
from sidehill.advice.told_study import study_warnings
from sidehill.study.study import Study, load_study

AXLE = "front axle, load: {} kg, over 1,200 kg: against the maker's rating"
SHARE = "rear axle, share with the bucket full: {} %, under 25.0 %: 25 % of the mass"
FOLDED = "HAZARD: roll bar folded"


def test_what_holds_for_all_has_no_names() -> None:
    assert said_once({"a": [FOLDED], "b": [FOLDED]}) == [FOLDED]
    assert said_once({"a": [], "b": []}) == []


def test_each_kind_is_told_once_at_its_worst() -> None:
    """Over a rating the largest is worst, under a share the least; whatever their order."""
    told = {
        "a": [AXLE.format("1,302"), SHARE.format("13.6")],
        "b": [AXLE.format("998,999"), SHARE.format("9.8")],
        "c": [AXLE.format("1,341"), SHARE.format("21.0")],
    }
    expected = [AXLE.format("998,999") + " (at worst)", SHARE.format("9.8") + " (at worst)"]
    for names in ("abc", "cba", "bca"):
        assert said_once({name: told[name] for name in names}) == expected


def test_whose_it_is_is_said_the_shorter_way() -> None:
    names = {name: [FOLDED] if name in "ab" else [] for name in "abcdef"}
    assert said_once(names) == [f"{FOLDED} (a; b)"]
    assert said_once({**names, **{key: [FOLDED] for key in "cde"}}) == [f"{FOLDED} (all but f)"]


STUDY = """
title = "Loads"
machine = "bramble"
scenario = "bank-plain"

[outfit]
rear_ballast = "200 kg"

[[option]]
name = "bare"

[[option]]
name = "loaded"
bucket_height = "full"

[vary]
"outfit.bucket_load" = ["0 kg", "100 kg", "450 kg"]
"""


@pytest.fixture
def study(tmp_path: Any) -> Study:
    path = tmp_path / "loads.toml"
    path.write_text(STUDY, encoding="utf-8")
    return load_study(path)


def test_what_a_study_varies_is_looked_at_too(study: Study) -> None:
    """450 kg are over the loader's rating; the study's own outfits carry nothing."""
    assert not any("OVERLOADED" in text for own in study_warnings(study).values() for text in own)
    (field,) = study.fields
    told = study_warnings(study, [{field.column: 450.0}])
    assert all(any("OVERLOADED: 450 kg" in text for text in own) for own in told.values())


def test_a_sweep_warns_of_its_heaviest_case(study: Study, tmp_path: Any) -> None:
    said = answer(f"sweep {study.file} --out {tmp_path / 'kept'} --workers 1")["warnings"]
    (over,) = [text for text in said if "OVERLOADED" in text]
    assert "450 kg" in over
    assert any(text.startswith("front axle, load: ") for text in said)


OUTFIT = '--bucket-load "450 kg" --rear-spacer "76 mm"'
PLACE = 'bank-plain --set ground.slope="6 deg" --set course.length="2 m"'


def test_every_report_of_one_case_has_the_same_warnings(tmp_path: Any) -> None:
    driven = answer(f"drive bramble {PLACE} {OUTFIT} --engine compiled --out {tmp_path}")
    expected = driven["warnings"]
    for start in ("OVERLOADED: 450 kg", "front axle, load: ", "rear axle, share"):
        assert sum(text.startswith(start) for text in expected) == 1
    record = tmp_path / "record.parquet"
    page, still = tmp_path / "replay.html", tmp_path / "still.png"
    for line in (
        f"picture {PLACE} --machine bramble {OUTFIT} -o {tmp_path / 'plan.svg'}",
        f"replay {record} -o {page}",
        f"film {record} --size 480x270 --still end --out {still}",
        f"tip bramble --slope '6 deg' {OUTFIT}",
    ):
        assert answer(line)["warnings"] == expected, line
    words = page.read_text(encoding="utf-8")
    assert all(text.replace("'", "&#39;") in words for text in expected)
    shown = run(f"urdf bramble {OUTFIT}").stderr
    assert "OVERLOADED: 450 kg" in shown and "front axle, load: " in shown
