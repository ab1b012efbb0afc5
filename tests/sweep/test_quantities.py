"""A further quantity of a strip is one row in one place: all who speak of one know it then."""

import importlib
from math import degrees, radians
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from sidehill.cli import limit as limit_command
from sidehill.files.errors import InputError
from sidehill.strip import quantity
from sidehill.strip.quantity import VARIED, Varied
from sidehill.study.study import load_study
from sidehill.sweep.run_study import run_study

GRADE = Varied(
    "climb", "grade of the course", "ground.grade", "slope", "deg", "deg", degrees,
    radians(0.5), radians(9.0), radians(4.0), radians(4.0),
)  # fmt: skip
STUDY = """
title = "x"
machine = "bramble"
scenario = "bank-plain"
[vary]
"course.length" = ["3 m"]
"drive.speed" = ["4 km/h"]
%s
[find]
of = "climb"
until = ["not_across"]
"""


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(VARIED, "climb", GRADE)


def study(folder: Path, more: str = "") -> Path:
    path = folder / "climb.toml"
    path.write_text(STUDY % more, encoding="utf-8")
    return path


def test_without_the_row_nobody_knows_it(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"find.of.*'slope', 'speed' or 'bump'"):
        load_study(study(tmp_path))


@pytest.mark.usefixtures("made_up")
def test_with_it_the_study_is_checked_and_run(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r'vary."ground.grade".*leave one out'):
        load_study(study(tmp_path, '"ground.grade" = ["1 deg"]'))
    results = run_study(load_study(study(tmp_path)), tmp_path / "out", engine="compiled", workers=1)
    table = results.table()
    assert table["problem"].isna().all()
    assert table["tried_from_deg"].iloc[0] == pytest.approx(0.5)
    assert {"not_across_good_up_to_deg", "not_across_first_bad_deg"} <= set(table.columns)
    assert GRADE.value_in(results.case(table.iloc[0])) == 0.0


@pytest.mark.usefixtures("made_up")
def test_with_it_the_command_names_it(monkeypatch: pytest.MonkeyPatch) -> None:
    app = typer.Typer()
    app.command()(importlib.reload(limit_command).command)
    said = CliRunner().invoke(app, ["--help"], env={"COLUMNS": "200"}).stdout
    assert "slope, speed, bump, climb" in said
    monkeypatch.undo()
    importlib.reload(limit_command)


def test_no_other_source_has_a_list_of_them() -> None:
    """ "bump" is a shape of the ground too; beside that it stands in one file."""
    package = Path(quantity.__file__).parent.parent
    shapes = {"scenario/shapes.py"}
    found = {
        path.relative_to(package).as_posix()
        for path in package.rglob("*.py")
        if '"bump"' in path.read_text(encoding="utf-8")
    }
    assert found - shapes == {"strip/quantity.py"}


@pytest.mark.parametrize("name", list(VARIED))
def test_a_value_goes_there_and_back(name: str) -> None:
    varied = VARIED[name]
    for value in (varied.low, varied.high, 0.3 * (varied.low + varied.high)):
        assert varied.to_si(varied.from_si(value)) == pytest.approx(value, rel=1e-15)
