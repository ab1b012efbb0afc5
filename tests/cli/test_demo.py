"""The demo, end to end on its quick plan, and the slopes that it shows."""

import json
from dataclasses import replace
from math import degrees, radians
from pathlib import Path

import imageio_ffmpeg
import pandas as pd
import pytest
from cli.runner import run
from film.posed import case_of, posed
from PIL import Image
from posed_strip import GOOD, HOPPED, LIFTED, NO_START, OVER, STUCK, posed_strip

from sidehill.caution import CAUTION, SHOWN_SLOPE
from sidehill.cli import demo_films, demo_run
from sidehill.cli.demo_report import answer
from sidehill.cli.demo_run import BOX, FILL, FILMS, HIGH, LOW, QUICK, WIDE, Demo, Shown, shown_slope
from sidehill.files.errors import SidehillError
from sidehill.run.record import load_record
from sidehill.strip.strip import Strip
from sidehill.study.study import load_study


def strips(high: Strip, low: Strip) -> dict[str, Strip]:
    return {HIGH: high, LOW: low}


GOES = posed_strip((2.0, LIFTED), (8.0, LIFTED), (8.2, OVER), (10.0, OVER), (10.2, NO_START))
STAYS = posed_strip((2.0, GOOD), (9.1, GOOD), (16.0, HOPPED), (16.2, LIFTED), (20.0, LIFTED))


def test_the_shown_slope_lies_where_one_goes_over_while_driven_and_the_other_is_fine() -> None:
    slope = shown_slope(strips(GOES, STAYS), FILMS["high-low"][1])
    assert slope is not None
    # the band of GOES is 8.2 to 10.0 deg; STAYS is known to be good at its own values alone
    assert slope == pytest.approx(radians(9.1)) or 8.2 <= degrees(slope) <= 10.0


@pytest.mark.parametrize(
    ("high", "low"),
    [
        (posed_strip((2.0, GOOD), (10.0, GOOD)), STAYS),  # nothing goes over
        (posed_strip((2.0, NO_START), (10.0, NO_START)), STAYS),  # nothing starts
        (GOES, posed_strip((2.0, STUCK), (12.0, STUCK))),  # the other does not get there
        (GOES, posed_strip((2.0, LIFTED), (12.0, LIFTED))),  # a wheel lifts
    ],
)
def test_where_there_is_no_difference_nothing_is_shown(high: Strip, low: Strip) -> None:
    assert shown_slope(strips(high, low), FILMS["high-low"][1]) is None


def test_the_study_has_what_the_demo_names() -> None:
    names = {option.name for option in load_study("demo").options}
    assert len(names) == 16
    assert {*QUICK, HIGH, LOW, WIDE, BOX, FILL} <= names


@pytest.fixture(scope="module")
def quick() -> Demo:
    """What the quick demo finds, for all that is made of it."""
    return demo_run.run("compiled", quick=True)


@pytest.fixture
def found_before(quick: Demo, monkeypatch: pytest.MonkeyPatch) -> None:
    """The command finds that again, as long as it asks for the same."""

    def again(engine: str, quick_: bool) -> Demo:
        assert (engine, quick_) == ("compiled", True)
        return quick

    monkeypatch.setattr(demo_run, "run", again)


def test_no_gain_is_told_that_the_strips_do_not_show(quick: Demo) -> None:
    """A gain is told less what the strips were narrowed to; an option that jumps has none."""
    low = posed_strip((2.0, GOOD), (10.0, GOOD), (10.1, LIFTED))
    more = posed_strip((2.0, GOOD), (16.0, GOOD), (16.1, LIFTED))
    same = posed_strip((2.0, GOOD), (10.1, GOOD), (10.2, LIFTED))
    jumps = posed_strip((2.0, GOOD), (3.0, LIFTED), (12.0, GOOD))
    told = answer(replace(quick, strips={HIGH: GOES, LOW: low, WIDE: more, BOX: same, FILL: jumps}))
    assert "bucket high: a wheel lifts at the lowest slope tried already" in told
    assert "bucket low: no wheel lifts up to 10.0 deg" in told
    assert "rear spacers 76 mm buys at least 5.9 deg" in told
    assert "rear box 250 kg buys nothing that shows" in told
    assert "rear tyres filled cannot be told" in told


def posed_demo(quick: Demo) -> Demo:
    """A demo whose runs are posed, so that its films can be looked at apart from its strips."""
    load = {"bucket_load": "250 kg"}
    record = posed(case_of("bramble", "bank-stone", outfit=load), [0.0] * 3)
    shown = tuple(
        Shown(name, question, 0.16, dict.fromkeys(wishes, record))
        for name, (question, wishes) in FILMS.items()
    )
    return replace(quick, quick=False, shown=shown)


def test_without_a_slope_to_show_there_are_no_films_and_that_is_no_fault(
    quick: Demo, tmp_path: Path
) -> None:
    assert demo_films.make(tmp_path, replace(quick, shown=())) == ([], None)
    assert list(tmp_path.iterdir()) == []


def test_the_demo_s_films(quick: Demo, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lead film and four panes, with the caption that the slope must have."""
    monkeypatch.setattr(demo_films, "FPS", 5)
    files, problem = demo_films.make(tmp_path, posed_demo(quick))
    assert problem is None
    assert [Path(file).name for file in files] == ["high-low.mp4", "what-helps.mp4"]
    lead = imageio_ffmpeg.read_frames(files[0])
    assert next(lead)["size"] == (960, 540)
    assert f"{HIGH} | {LOW}".encode() in Path(files[0]).read_bytes()
    assert " | ".join([LOW, WIDE, BOX, FILL]).encode() in Path(files[1]).read_bytes()


@pytest.mark.usefixtures("found_before")
def test_a_film_that_fails_loses_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tables are told, everything else is written, and one message says what is missing."""

    def no_encoder(*_: object, **__: object) -> None:
        raise SidehillError("no ffmpeg here")

    monkeypatch.setattr("sidehill.cli.film_run.film", no_encoder)
    monkeypatch.setattr("sidehill.cli.film_run.still", no_encoder)
    result = run(f"demo --quick --engine compiled --out {tmp_path} --json")
    assert result.exit_code == 2
    assert len(json.loads(result.stdout)["files"]) == len(list(tmp_path.iterdir()))
    assert (tmp_path / "report.md").stat().st_size > 1000
    assert (tmp_path / "strips.csv").stat().st_size > 1000
    told = [line for line in result.stderr.splitlines() if line.startswith("sidehill: ")]
    assert told == ["sidehill: no film high-low-still.png, all else is written: no ffmpeg here"]


@pytest.mark.usefixtures("found_before")
def test_quick_demo(tmp_path: Path) -> None:
    out = tmp_path / "demo"
    result = run(f"demo --quick --engine compiled --out {out} --json")
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    assert found["quick"] is True
    assert list(found["options"]) == [
        option.name for option in load_study("demo").options if option.name in QUICK
    ]
    assert sorted(str(path) for path in out.iterdir()) == sorted(found["files"])
    text = (out / "report.md").read_text(encoding="utf-8")
    for name in ("high-low-still.png", "what-helps-still.png"):  # a film would take too long
        assert Image.open(out / name).size == (960, 540)
        assert f"]({name})" in text
    columns = ["option", "lifted_good_up_to_deg", "overturned_good_up_to_deg"]
    pd.testing.assert_frame_equal(
        pd.read_csv(out / "strips.csv")[columns],
        pd.read_parquet(out / "strips.parquet")[columns],
        check_dtype=False,
    )
    assert CAUTION in text and SHOWN_SLOPE in text
    for word in ("safe", "can take"):
        assert word not in text
        assert word not in result.stdout
    lead = found["shown"]["high-low"]
    assert lead["runs"][HIGH]["progress"] == "over"
    assert lead["runs"][LOW]["progress"] == "across"
    record = load_record(out / "high-low-bucket-low-as-delivered.parquet")
    shown = record.meta["case"]["scenario"]["ground"]["slope"]
    assert degrees(shown) == pytest.approx(lead["slope_deg"])
    helps = found["shown"]["what-helps"]["runs"]
    assert helps[LOW]["stability"] in ("lifted", "on_stop")
    assert {helps[name]["stability"] for name in (WIDE, BOX, FILL)} <= {"planted", "hopped"}
