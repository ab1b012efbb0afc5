"""The demo, end to end on its quick plan, and the slope that it shows."""

import json
from dataclasses import replace
from math import isnan
from pathlib import Path

import imageio_ffmpeg
import pandas as pd
import pytest
from cli.runner import run
from film.posed import case_of, posed
from PIL import Image

from sidehill.caution import CAUTION, SHOWN_SLOPE
from sidehill.cli import demo_films, demo_run
from sidehill.cli.demo_run import HIGH, LOW, QUICK, SHOWN, Demo, shown_slope
from sidehill.files.errors import SidehillError
from sidehill.run.record import load_record
from sidehill.study.study import load_study


def limits(high: tuple[float, float], low: tuple[float, float]) -> pd.DataFrame:
    """Overturn limits (highest good, lowest bad) of bucket high and bucket low."""
    return pd.DataFrame(
        {
            "option": [HIGH, LOW],
            "overturn_highest_good_deg": [high[0], low[0]],
            "overturn_lowest_bad_deg": [high[1], low[1]],
        }
    )


def test_the_shown_slope_lies_midway_between() -> None:
    assert shown_slope(limits((9.12, 9.15), (14.27, 14.31))) == pytest.approx(11.7)
    assert shown_slope(limits((14.27, 14.31), (9.12, 9.15))) == pytest.approx(11.7)


@pytest.mark.parametrize(
    "table",
    [
        limits((9.12, 9.15), (9.12, 9.15)),
        limits((9.12, 9.15), (9.17, 9.20)),
        limits((float("nan"), 2.0), (9.12, 9.15)),
        limits((9.12, 9.15), (35.0, float("nan"))),
    ],
)
def test_where_nothing_lies_between_nothing_is_shown(table: pd.DataFrame) -> None:
    assert shown_slope(table) is None


def test_the_study_has_what_the_demo_names() -> None:
    names = {option.name for option in load_study("demo").options}
    assert len(names) == 16
    assert {*QUICK, *SHOWN, HIGH, LOW} <= names


@pytest.fixture(scope="module")
def quick() -> Demo:
    """What the quick demo finds in one engine, for all that is made of it."""
    return demo_run.run("mujoco", quick=True)


@pytest.fixture
def found_before(quick: Demo, monkeypatch: pytest.MonkeyPatch) -> None:
    """The command finds that again, as long as it asks for the same."""

    def again(engine: str, quick_: bool) -> Demo:
        assert (engine, quick_) == ("mujoco", True)
        return quick

    monkeypatch.setattr(demo_run, "run", again)


def demo_of(quick: bool) -> Demo:
    """A demo whose runs are posed, so that its films can be looked at apart from its limits."""
    records = {
        name: posed(case_of("bramble", "bank-stone", outfit={"bucket_load": "250 kg"}), [0.0] * 3)
        for name in SHOWN
    }
    return Demo(
        load_study("demo"), "mujoco", quick, limits((9.1, 9.2), (14.2, 14.3)), 11.7, records
    )


def test_without_a_slope_to_show_there_are_no_films_and_that_is_no_fault(tmp_path: Path) -> None:
    demo = replace(demo_of(quick=False), slope=None, records={})
    assert demo_films.make(tmp_path, demo) == ([], None)
    assert list(tmp_path.iterdir()) == []


def test_the_demo_s_films(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lead film and four panes, with the caption that the slope must have."""
    monkeypatch.setattr(demo_films, "FPS", 5)
    files, problem = demo_films.make(tmp_path, demo_of(quick=False))
    assert problem is None
    assert [Path(file).name for file in files] == ["high-low.mp4", "high-low-spacers.mp4"]
    lead = imageio_ffmpeg.read_frames(files[0])
    assert next(lead)["size"] == (960, 540)
    assert f"{HIGH} | {LOW}".encode() in Path(files[0]).read_bytes()
    assert " | ".join(SHOWN).encode() in Path(files[1]).read_bytes()


@pytest.mark.usefixtures("found_before")
def test_a_film_that_fails_loses_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tables are told, everything else is written, and one message says what is missing."""

    def no_encoder(*_: object, **__: object) -> None:
        raise SidehillError("no ffmpeg here")

    monkeypatch.setattr("sidehill.cli.film_run.film", no_encoder)
    monkeypatch.setattr("sidehill.cli.film_run.still", no_encoder)
    result = run(f"demo --quick --engine mujoco --out {tmp_path} --json")
    assert result.exit_code == 2
    assert len(json.loads(result.stdout)["files"]) == len(list(tmp_path.iterdir()))
    assert (tmp_path / "report.md").stat().st_size > 1000
    assert (tmp_path / "limits.csv").stat().st_size > 1000
    told = [line for line in result.stderr.splitlines() if line.startswith("sidehill: ")]
    assert told == ["sidehill: no film high-low.png, all else is written: no ffmpeg here"]


@pytest.mark.usefixtures("found_before")
def test_quick_demo(tmp_path: Path) -> None:
    out = tmp_path / "demo"
    result = run(f"demo --quick --engine mujoco --out {out} --json")
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    assert found["quick"] is True
    assert [row["option"] for row in found["options"]] == [
        option.name for option in load_study("demo").options if option.name in QUICK
    ]
    assert all(row["problem"] is None for row in found["options"])
    assert sorted(str(path) for path in out.iterdir()) == sorted(found["files"])
    for name in ("high-low.png", "high-low-spacers.png"):  # stills: a film would take too long
        assert Image.open(out / name).size == (960, 540)
        assert f"]({name})" in (out / "report.md").read_text(encoding="utf-8")
    table = pd.read_csv(out / "limits.csv")
    pd.testing.assert_frame_equal(
        table[["option", "lift_highest_good_deg", "overturn_highest_good_deg"]],
        pd.read_parquet(out / "limits.parquet")[
            ["option", "lift_highest_good_deg", "overturn_highest_good_deg"]
        ],
        check_dtype=False,
    )
    text = (out / "report.md").read_text(encoding="utf-8")
    assert CAUTION in text
    for word in ("safe", "can take"):
        assert word not in text
        assert word not in result.stdout
    _check_shown(found, table, out, text)


def _check_shown(found: dict[str, object], table: pd.DataFrame, out: Path, text: str) -> None:
    """The shown slope lies between the two limits that were found, and was driven."""
    slope, good = found["shown_slope_deg"], table.set_index("option")["overturn_highest_good_deg"]
    assert isinstance(slope, float)
    assert not isnan(good[HIGH])
    assert min(good[HIGH], good[LOW]) < slope < max(good[HIGH], good[LOW])
    assert SHOWN_SLOPE in text
    assert set(found["shown"]) == set(SHOWN)  # type: ignore[call-overload]
    record = load_record(out / "bucket-low-as-delivered.parquet")
    shown = record.meta["case"]["scenario"]["ground"]["slope"]
    assert shown * 180.0 / 3.141592653589793 == pytest.approx(slope)
