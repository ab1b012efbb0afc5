"""The demo, end to end on its quick plan, and the slope that it shows."""

import json
from math import isnan
from pathlib import Path

import pandas as pd
import pytest
from cli.runner import run

from sidehill.caution import CAUTION, SHOWN_SLOPE
from sidehill.cli.demo_run import HIGH, LOW, QUICK, SHOWN, shown_slope
from sidehill.record import load_record
from sidehill.sweep.study import load_study


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
