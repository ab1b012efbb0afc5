"""The commands `crosscheck` and `weigh`: answers, files, exit codes, refusals."""

import json
import shlex
from dataclasses import replace
from math import hypot, radians, tan
from pathlib import Path
from typing import Any

import pytest
import typer
from crosscheck.subjects import without
from typer.testing import CliRunner

from sidehill.cli import crosscheck, crosscheck_run, weigh
from sidehill.cli.fault import guarded
from sidehill.crosscheck import published
from sidehill.crosscheck.checks import stages
from sidehill.crosscheck.readme import BEGIN, END

app = typer.Typer(pretty_exceptions_enable=False)
app.command("crosscheck")(guarded(crosscheck.command))
app.command("weigh")(guarded(weigh.command))

READINGS = {
    "level-front": "430 kg",
    "level-rear": "560 kg",
    "raised-front": "383 kg",
    "tilt": "22 deg",
    "wheelbase": "1.62 m",
    "front-radius": "0.30 m",
    "rear-radius": "0.475 m",
    "scale-error": "0.2 %",
}


def run(line: str) -> Any:
    return CliRunner().invoke(app, shlex.split(line))


def answer(line: str) -> dict[str, Any]:
    result = run(f"{line} --json")
    assert result.exit_code == 0, result.output
    return dict(json.loads(result.stdout))


def weighing(**changes: str) -> str:
    values = READINGS | {name.replace("_", "-"): value for name, value in changes.items()}
    return "weigh " + " ".join(f'--{name} "{value}"' for name, value in values.items())


def test_a_ladder_as_json() -> None:
    found = answer("crosscheck hawthorn --statics-only --rear-spacer '76 mm'")
    rungs = found["ladder"]["rungs"]
    assert [rung["over"] for rung in rungs][:2] == [None, rungs[0]["name"]]
    assert len(rungs) == 11
    assert rungs[0]["lift_off_slope_deg"] > rungs[10]["lift_off_slope_deg"]
    assert rungs[1]["lift_off_change_deg"] == pytest.approx(
        rungs[1]["lift_off_slope_deg"] - rungs[0]["lift_off_slope_deg"]
    )
    lift_off = found["ladder"]["intervals"]["lift-off slope"]
    assert lift_off["low_deg"] < lift_off["best_deg"] < lift_off["high_deg"]
    assert found["ladder"]["engine"] == "compiled"
    assert found["published"] is None
    assert found["passed"]
    assert found["caution"]
    assert any("rear spacers" in note for note in found["notes"])


def test_a_ladder_for_people_and_as_a_page(tmp_path: Path) -> None:
    page = tmp_path / "sorrel.html"
    result = run(f"crosscheck sorrel --statics-only --page {page}")
    assert result.exit_code == 0, result.output
    assert "+ the fall onto the stop" in result.stdout
    assert "lift-off slope: 19.2 deg (34 %) [24.7 deg (46 %)], most from CG height" in result.stdout
    assert "statics only were asked for" in result.stdout
    assert "not modelled: sinkage beyond a spring" in result.stdout
    assert f"wrote {page}" in result.stdout.replace("\n", "")
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")


def test_a_file_with_a_gap_says_which_rungs_are_lost(tmp_path: Path) -> None:
    path = without("bramble", tmp_path, "weighed.front_axle")
    result = run(f"crosscheck {path}")
    assert result.exit_code == 0, result.output
    told = " ".join(result.stdout.split())
    assert "could not compute: weighed.front_axle is missing from" in told
    assert "of the bare tractor, without operator or outfit" in told
    assert "39.8 deg (83 %)" in told  # atan(1.00 / 2 / 0.60): the one rung that is left


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(published, "CHECKS", stages.CHECKS[:3])
    monkeypatch.setattr(crosscheck_run, "effects", lambda: ())
    monkeypatch.setattr(crosscheck_run, "cornerings", lambda: ())
    monkeypatch.setattr(crosscheck_run, "over_obstacle", lambda: None)


@pytest.mark.usefixtures("few")
def test_published_values_pass(tmp_path: Path) -> None:
    page, readme = tmp_path / "p.html", tmp_path / "README.md"
    readme.write_text(f"a\n{BEGIN}\n{END}\nb\n", encoding="utf-8")
    found = answer(f"crosscheck --published --readme {readme}")
    assert [check["passed"] for check in found["published"]["checks"]] == [True] * 3
    assert found["published"]["code6_fall"]["calculated"]["o0"] == pytest.approx(3.881, abs=1e-3)
    assert found["files"] == [str(readme)]
    assert "3 values: all pass" in readme.read_text(encoding="utf-8")
    assert not page.exists()


def test_a_failing_value_exits_with_1(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong = replace(stages.CHECKS[0], expected=29.5)
    lost = replace(stages.CHECKS[1], compute=lambda: float("nan"))
    monkeypatch.setattr(published, "CHECKS", (wrong, lost))
    monkeypatch.setattr(crosscheck_run, "effects", lambda: ())
    monkeypatch.setattr(crosscheck_run, "cornerings", lambda: ())
    monkeypatch.setattr(crosscheck_run, "over_obstacle", lambda: None)
    result = run("crosscheck --published --json")
    assert result.exit_code == 1
    found = json.loads(result.stdout)
    assert not found["passed"]
    assert found["published"]["checks"][1]["computed"] is None
    for_people = run("crosscheck --published")
    assert for_people.exit_code == 1
    assert "2 values: 2 FAIL" in for_people.stdout
    assert "expected 29.5 deg" in for_people.stdout


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("crosscheck", ["name a machine", "--published"]),
        ("crosscheck bramble --readme R.md", ["--readme", "--published"]),
        ("crosscheck --published --readme none.md", ["none.md", "no such file"]),
        ("crosscheck bramble --page x.pdf", ["x.pdf", ".html"]),
        ("crosscheck brambel", ['did you mean "bramble"']),
        ("crosscheck bramble --scenario nowhere", ["no scenario called"]),
        ("crosscheck bramble --scenario tilt-table", ["tilt-table", "course"]),
        ("crosscheck bramble --engine steam", ["steam", "compiled"]),
        ("crosscheck bramble --bucket-load 250", ["bucket_load", "kg"]),
        (weighing(tilt="0.5 deg"), ["tilt", "2 deg to 45 deg"]),
        (weighing(raised_front="995 kg"), ["raised_front", "under the whole mass"]),
        ("weigh", ["level_front", "missing"]),
        (weighing() + " -o block.txt", ["block.txt", ".toml"]),
    ],
)
def test_bad_input_is_refused_in_one_message(
    line: str, words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run(line)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert result.stderr.startswith("sidehill: ")
    assert "Traceback" not in result.stderr
    for word in words:
        assert word in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_weigh_gives_the_height_its_error_and_a_block(tmp_path: Path) -> None:
    path = tmp_path / "weighed.toml"
    found = answer(f"{weighing()} -o {path}")
    assert found["mass_kg"] == 990.0
    by_hand = 0.475 + (430 - 383) * 1.62 / (990 * tan(radians(22))) + (0.30 - 0.475) * 383 / 990
    assert found["cg_height_m"] == pytest.approx(by_hand)
    assert found["cg_height_error_m"] == pytest.approx(hypot(*found["shares_m"].values()))
    assert found["largest"] == "level_front"
    assert path.read_text(encoding="utf-8") == found["weighed_block"]
    assert 'cg_height_from = "weighed"' in found["weighed_block"]


def test_weigh_for_people() -> None:
    result = run(weighing() + " --units us")
    assert result.exit_code == 0, result.output
    assert result.stdout.startswith("CG height 23.6 in (598 mm), one standard error")
    assert "brakes off" in result.stdout
    assert "[weighed]" in result.stdout
