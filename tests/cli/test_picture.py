"""`sidehill picture`: a scenario in, one picture out."""

import json
import shlex
from pathlib import Path
from typing import Any

import pytest
import typer
from PIL import Image
from typer.testing import CliRunner

from sidehill.caution import CAUTION
from sidehill.cli import picture
from sidehill.cli.fault import guarded

app = typer.Typer(pretty_exceptions_enable=False)
app.command("picture", epilog="\n\n".join(picture.EXAMPLES))(guarded(picture.command))


def run(line: str) -> Any:
    return CliRunner().invoke(app, shlex.split(line)[1:])  # it is the app's one command


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("example", picture.EXAMPLES)
def test_the_examples_of_the_help_run(example: str, folder: Path) -> None:
    result = run(example.removeprefix("sidehill "))
    assert result.exit_code == 0, result.output
    assert "it does not permit" in result.stdout
    assert len([path for path in folder.rglob("*") if path.is_file()]) == 1
    assert example.split(" --")[0].split(" -o")[0] in " ".join(run("picture --help").stdout.split())


def test_a_picture_has_its_place_and_its_ending(folder: Path) -> None:
    result = run("picture bank-stone")
    assert "wrote sidehill-picture/bank-stone.png" in result.stdout
    assert "the front tyre meets it over" in " ".join(result.stdout.split())
    with Image.open(folder / "sidehill-picture" / "bank-stone.png") as image:
        assert image.format == "PNG"
    assert run("picture bank-stone -o a/b.svg").exit_code == 0
    assert b"<svg" in (folder / "a" / "b.svg").read_bytes()


def test_json_tells_where_everything_lies() -> None:
    told = json.loads(
        run('picture bank-stone-and-rut --rear-spacer "76 mm" --set ground.slope=14% --json').stdout
    )
    assert told["file"] == "sidehill-picture/bank-stone-and-rut.png"
    assert told["caution"] == CAUTION
    assert told["slope_deg"] == pytest.approx(7.969610394)  # atan(0.14)
    assert told["rear_track_m"] == pytest.approx(1.0 + 2 * 0.076)
    stone, rut = told["features"]
    assert (stone["number"], stone["shape"], rut["number"], rut["shape"]) == (1, "bump", 2, "hole")
    assert (stone["y_m"], rut["y_m"]) == pytest.approx((0.576, -0.576))
    assert (stone["height_m"], rut["height_m"]) == pytest.approx((0.06, -0.06))


def test_the_machine_decides_where_the_stone_lies() -> None:
    places = [
        json.loads(run(f"picture bank-stone --machine {name} --json").stdout)["features"][0]["y_m"]
        for name in ("sorrel", "hawthorn")
    ]
    assert 0.0 < places[0] < places[1]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("picture bank-ston", ('"bank-ston"', 'did you mean "bank-stone"?')),
        ("picture bank-stone --machine brambel", ('did you mean "bramble"?',)),
        ("picture bank-stone -o out.jpg", ("out.jpg", ".png or .svg")),
        ("picture bank-stone -o out", ("out", ".png or .svg")),
        ("picture bank-stone --set ground.slope=14", ("ground.slope = 14", "without a unit")),
        ("picture bank-stone --rear-spacer 76", ('rear_spacer = "76"', "without a unit")),
        (
            'picture turn-uphill --set course.radius="1.2 m" --set course.length="7.5 m"',
            ("course.radius", "allowed: at least"),
        ),
        ('picture bank-stone --set feature.1.at="1 m"', ("feature.1.at", "as it starts")),
    ],
)
def test_bad_input_is_one_message_and_no_file(
    line: str, words: tuple[str, ...], folder: Path
) -> None:
    result = run(line)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert result.stderr.startswith("sidehill: ") and "Traceback" not in result.stderr
    for word in words:
        assert word in result.stderr
    assert list(folder.iterdir()) == []


def test_a_place_that_is_taken_is_left_alone(folder: Path) -> None:
    (folder / "taken").write_text("mine", encoding="utf-8")
    result = run("picture bank-stone -o taken/x.png")
    assert result.exit_code == 2
    assert (folder / "taken").read_text(encoding="utf-8") == "mine"
    assert list(folder.iterdir()) == [folder / "taken"]
