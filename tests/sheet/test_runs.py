"""The slopes that runs are on; what does not come across gives no peak load."""

from math import degrees, radians

import pytest
from advice.strips import look

from sidehill.run import run
from sidehill.run.outcome import progress
from sidehill.sheet.make import Sheet
from sidehill.sheet.runs import shown_slope


def test_the_bank_asked_about_is_shown_where_all_can_start() -> None:
    looks = [look("a", "hhhhhhllllLLoo", asked=10.0), look("b", "hhhhhhhhhhhhhh", asked=10.0)]
    assert shown_slope(looks, 10.0) == 10.0


def test_where_one_cannot_start_it_is_flatter_by_half_degrees() -> None:
    looks = [look("a", "hhhhhlllnnnnnn", asked=10.0), look("b", "hhhhhhhhhhhhhh", asked=10.0)]
    assert shown_slope(looks, 10.0) == 8.0


def test_peaks_are_of_runs_that_came_across_on_one_slope(made: Sheet) -> None:
    found, loads = made.found, made.found.loads
    assert loads.ended == {}
    assert loads.slope < degrees(found.study.scenario.ground.slope)
    for option in found.study.options:
        assert max(loads.peaks[option.name].values()) > 5000.0
        assert found.ranked(option.name).price.heaviest_bearing("rear", "peak") is not None


def test_one_degree_steeper_some_option_does_not_come_across(made: Sheet) -> None:
    study, steeper = made.found.study, made.found.loads.slope + 1.0
    ended = [
        progress(run(study.case(option).with_slope(radians(steeper)), "compiled").state)
        for option in study.options
    ]
    assert any(name not in ("across", "halted") for name in ended)


def test_the_shown_runs_are_on_one_slope_and_all_of_them_started(made: Sheet) -> None:
    shown = made.found.shown
    assert next(iter(shown.records)) == "as delivered"
    for record in shown.records.values():
        slope = degrees(record.meta["case"]["scenario"]["ground"]["slope"])
        assert slope == pytest.approx(shown.slope)
        assert record.outcome.progress != "not_started"
