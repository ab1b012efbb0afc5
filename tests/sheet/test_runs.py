"""The slopes that runs are on; what does not come across gives no peak load."""

from math import degrees

import pandas as pd
import pytest

from sidehill.run import run
from sidehill.run.outcome import verdict
from sidehill.sheet.make import Sheet
from sidehill.sheet.runs import between
from sidehill.strip.trial import COUNTED


def limits(good: dict[str, float], bad: dict[str, float]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "option": list(good),
            "overturn_highest_good_deg": list(good.values()),
            "overturn_lowest_bad_deg": list(bad.values()),
        }
    )


def test_the_shown_slope_lies_midway_between() -> None:
    table = limits({"high": 9.12, "low": 14.27}, {"high": 9.15, "low": 14.31})
    assert between(table, "high", "low") == pytest.approx(11.7)
    assert between(table, "high", "high") is None


@pytest.mark.parametrize("good", [9.13, float("nan")])
def test_where_nothing_lies_between_none_is_chosen(good: float) -> None:
    table = limits({"high": 9.12, "low": good}, {"high": 9.15, "low": 9.17})
    assert between(table, "high", "low") is None


def test_peaks_are_of_runs_that_came_across_on_one_slope(made: Sheet) -> None:
    found, loads = made.found, made.found.loads
    assert loads.ended == {}
    assert loads.slope < degrees(found.study.scenario.ground.slope)
    for option in found.study.options:
        assert max(loads.peaks[option.name].values()) > 5000.0
        priced = next(o for o in found.ranking.options if o.option == option.name).price
        assert priced.heaviest_bearing("rear", "peak") is not None


def test_one_degree_steeper_some_option_does_not_come_across(made: Sheet) -> None:
    study, steeper = made.found.study, made.found.loads.slope + 1.0
    ended = []
    for option in study.options:
        track = run(study.case(option).with_slope(steeper * 3.141592653589793 / 180.0), "compiled")
        ended.append(verdict(track.state, study.scenario.run.step))
    assert any(judged not in COUNTED["overturn"] for judged in ended)


def test_the_shown_runs_are_on_one_slope_and_told(made: Sheet) -> None:
    shown = made.found.shown
    assert next(iter(shown.records)) == "as delivered"
    for record in shown.records.values():
        slope = degrees(record.meta["case"]["scenario"]["ground"]["slope"])
        assert slope == pytest.approx(shown.slope)
