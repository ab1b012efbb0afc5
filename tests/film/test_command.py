"""`sidehill film`: a study or records in, a film, GIF or picture out."""

import json
import shlex
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import typer
from film.posed import case_of, posed
from PIL import Image
from typer.testing import CliRunner

from sidehill.cli import film
from sidehill.cli.fault import guarded
from sidehill.kernels.layout import OVERTURNED
from sidehill.run.record import save_record

STUDY = """title = "Two"
machine = "bramble"
scenario = "bank-plain"
[[option]]
name = "as delivered"
[[option]]
name = "wide"
rear_spacer = "76 mm"
"""

app = typer.Typer(pretty_exceptions_enable=False)
app.command("film")(guarded(film.command))


def run(line: str) -> Any:
    return CliRunner().invoke(app, shlex.split(line)[1:])  # it is the app's one command


def refused(line: str) -> str:
    result = run(line)
    assert result.exit_code == 2, result.output
    assert "Traceback" not in result.stderr
    message: str = result.stderr
    return message


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with two records and a study."""
    monkeypatch.chdir(tmp_path)
    for name, outfit in (("a", {}), ("b", {"rear_spacer": "76 mm"})):
        record = posed(case_of("bramble", "bank-stone", outfit=outfit), [0.0] * 5)
        save_record(record, tmp_path / f"{name}.parquet")
    (tmp_path / "two.toml").write_text(STUDY, encoding="utf-8")
    (tmp_path / "cut.parquet").write_bytes((tmp_path / "a.parquet").read_bytes()[:5000])
    lost = replace(record, meta=record.meta | {"urdf": record.meta["urdf"].replace("bucket", "b")})
    save_record(lost, tmp_path / "lost.parquet")
    save_record(posed(case_of("bramble", "wet-grass"), [0.0] * 5), tmp_path / "wet.parquet")
    return tmp_path


def test_records_become_a_film(here: Path) -> None:
    result = run(
        "film a.parquet b.parquet --size 480x270 --fps 5 --workers 1 --out x/ab.mp4 --json"
    )
    assert result.exit_code == 0, result.output
    told = json.loads(result.stdout)
    assert told["titles"] == ["a", "b"]
    assert [facts[1] for facts in told["facts"]] == ["across", "across"]
    assert told["caution"]
    assert (here / "x" / "ab.mp4").stat().st_size > 10_000


def test_a_folder_of_drive_is_its_record(here: Path) -> None:
    (here / "high").mkdir()
    (here / "a.parquet").rename(here / "high" / "record.parquet")
    result = run("film high b.parquet --still end --size 640x360 --json")
    assert result.exit_code == 0, result.output
    assert json.loads(result.stdout)["titles"] == ["high", "b"]
    (here / "empty").mkdir()
    assert 'no study called "empty"' in refused("film empty --still end")


@pytest.mark.parametrize("still", ["end", "daylight", "0.02 s", "20 ms"])
def test_a_still(here: Path, still: str) -> None:
    result = run(f'film a.parquet --title "as delivered" --still "{still}" --size 640x360')
    assert result.exit_code == 0, result.output
    assert Image.open(here / "sidehill-film" / "a.png").size == (640, 360)


def test_a_study_runs_what_is_missing_and_reads_the_rest(here: Path) -> None:
    line = 'film two.toml --set "course.length=3 m" --engine mujoco --still end --size 480x270'
    assert run(line).exit_code == 0
    records = sorted((here / "sidehill-film" / "records").iterdir())
    assert len(records) == 2
    stamps = [path.stat().st_mtime_ns for path in records]
    result = run(f"{line} --json")
    assert json.loads(result.stdout)["titles"] == ["as delivered", "wide"]
    assert [path.stat().st_mtime_ns for path in records] == stamps


def test_one_option_of_a_study(here: Path) -> None:
    result = run(
        'film two.toml --option wide --set "course.length=3 m" --engine mujoco --gif --fps 5 '
        "--size 480x270 --workers 1 --slow 1 --json"
    )
    told = json.loads(result.stdout)
    assert told["titles"] == ["wide"]
    assert Image.open(told["file"]).format == "GIF"


def test_an_upright_gif_keeps_under_the_size_that_is_asked_for(here: Path) -> None:
    result = run(
        "film a.parquet b.parquet --size 270x480 --fps 5 --gif --most '200 kB' --slow 1 --json"
    )
    assert result.exit_code == 0, result.output
    file = Path(json.loads(result.stdout)["file"])
    assert file.stat().st_size <= 200_000
    with Image.open(file) as image:
        assert image.height > image.width


def test_stills_of_every_event(here: Path) -> None:
    rolls = list(np.radians(np.linspace(0.0, 80.0, 81)))
    record = posed(case_of("bramble", "bank-stone"), rolls, finish=OVERTURNED)
    save_record(record, here / "over.parquet")
    result = run("film a.parquet over.parquet --stills seen/all --size 480x270 --json")
    assert result.exit_code == 0, result.output
    files = [Path(name) for name in json.loads(result.stdout)["files"]]
    assert sorted((here / "seen" / "all").iterdir()) == [here / file for file in files]
    names = [file.stem.split("-", 1)[1].rsplit("-", 1)[0] for file in files]
    assert names == [
        "start", "pane-2-daylight-rear-left", "pane-2-axle-on-its-stop", "pane-2-going-over",
        "pane-2-over", "end", "outcome", "caution",
    ]  # fmt: skip
    assert all(Image.open(file).size == (480, 270) for file in files)
    assert len({file.read_bytes() for file in files}) == len(files)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("film none.parquet", "no such record"),
        ("film cut.parquet", "cut short"),
        ("film lost.parquet", 'column "b_x_m" is missing'),
        ("film a.parquet wet.parquet", "different scenarios"),
        ("film a.parquet --out a.parquet/film.mp4", "not a folder"),
        ("film a.parquet --out .", "a folder"),
        ("film a.parquet --size 480x271", "even numbers"),
        ("film a.parquet --size 20000x20000", "even numbers"),
        ("film a.parquet --size -480x270", "--size"),
        ("film a.parquet two.toml", "not both"),
        ("film two.toml two.toml", "not both"),
        ("film nothing", "no study called"),
        ("film two.toml --title x", "--title is for records"),
        ("film a.parquet --set ground.slope=1deg", "a record is what it is"),
        ("film two.toml --option narrow", 'no option "narrow"'),
        ("film a.parquet --size big", "1280x720"),
        ("film a.parquet --still end --stills x", "no --still"),
        ("film a.parquet --gif --stills x", "no --still"),
        ("film a.parquet --stills a.parquet", "not a folder"),
        ("film a.parquet --most '4 MB'", "only a GIF"),
        ("film a.parquet --gif --most 4", "kB or MB"),
        ("film a.parquet --gif --most '4 m'", "kB or MB"),
        ("film a.parquet --gif --most '1 kB'", "100 kB"),
        ("film a.parquet --mark none.png", "none.png"),
        ("film a.parquet --mark two.toml", ".png"),
        ("film a.parquet --size 481x271", "even numbers"),
        ("film a.parquet --out film.avi", ".mp4"),
        ("film a.parquet --still end --gif", "one of them"),
        ("film a.parquet --still noon", "daylight"),
        ("film a.parquet --still '9 s'", "where the runs end"),
        ("film a.parquet --camera drone", "downhill"),
        ("film a.parquet --captions none.toml", "no such file"),
        ("film a.parquet --title x --title y", "2 titles"),
        ("film a.parquet a.parquet a.parquet a.parquet a.parquet", "5 records"),
    ],
)
def test_bad_input_is_one_message(here: Path, line: str, told: str) -> None:
    message = refused(line)
    assert told in message
    assert message.startswith("sidehill: ")
    assert len(message.strip().splitlines()) == 1


def test_more_options_than_panes(here: Path) -> None:
    assert "choose with --option" in refused("film demo")
