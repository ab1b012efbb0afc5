"""The table of a comparison: its numbers, its order, what it does with failures."""

import os
from collections.abc import Iterator
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import replace
from math import degrees, radians
from typing import Any

import pandas as pd
import pytest

from sidehill.files.errors import InputError, SidehillError
from sidehill.flat import flatten
from sidehill.machine.build import fit
from sidehill.rest import rest_slopes
from sidehill.scenario.file import load_scenario
from sidehill.statics.report import tip
from sidehill.statics.tipping import GRAVITY
from sidehill.strip.limit import find_limits
from sidehill.strip.trial import UNTIL
from sidehill.study.study import Study, load_study
from sidehill.sweep import dispatch as spread
from sidehill.sweep.compare import compare
from sidehill.sweep.row import DECK_FRICTION, columns

TOLERANCE, SCAN = radians(1.0), 4


@pytest.fixture(scope="module")
def study() -> Study:
    """Two options of the demo on a short plain bank."""
    demo = load_study("demo")
    short = {"course.length": 4.0, "feature.1.at": 3.2}
    return replace(demo, options=demo.options[:3:2], scenario=demo.scenario.with_values(short))


@pytest.fixture(scope="module")
def table(study: Study) -> pd.DataFrame:
    """Compared by a pool of processes, as by default."""
    return compare(study, "mujoco", tolerance=TOLERANCE, scan=SCAN)


def test_columns_order_and_types(study: Study, table: pd.DataFrame) -> None:
    assert dict(table.dtypes.astype(str)) == columns(UNTIL)
    assert list(table["option"]) == [option.name for option in study.options]
    assert list(table["engine"]) == ["mujoco"] * 2
    assert table["problem"].isna().all()


def test_statics_are_those_of_the_option(study: Study, table: pd.DataFrame) -> None:
    for option, (_, row) in zip(study.options, table.iterrows(), strict=True):
        report = tip(fit(study.machine, option.outfit))
        for name in ("lift_off", "second_stage", "overturn"):
            assert row[f"rigid_{name}_slope_deg"] == getattr(report, f"{name}_slope_deg")
        assert row["front_axle_kg"] + row["rear_axle_kg"] == pytest.approx(row["mass_kg"])
        assert report.wheel_loads_n is not None
        rear = report.wheel_loads_n["rear_left"] + report.wheel_loads_n["rear_right"]
        assert row["rear_axle_kg"] == pytest.approx(rear / GRAVITY)
        deck = study.case(option).with_scenario({"ground.friction": DECK_FRICTION})
        rest = rest_slopes(flatten(deck.with_slope(0.0)))
        assert row["compliant_lift_off_slope_deg"] == pytest.approx(degrees(rest.lift_off))


def test_limits_are_those_of_find_limits(study: Study, table: pd.DataFrame) -> None:
    option, row = study.options[0], table.iloc[0]
    for limit in find_limits(
        study.case(option), "slope", UNTIL, tolerance=TOLERANCE, scan=SCAN, engine="mujoco"
    ):
        good = row[f"{limit.until}_highest_good_deg"]
        assert good == limit.highest_good or (limit.highest_good is None and pd.isna(good))
        assert row[f"{limit.until}_lowest_bad_deg"] == limit.lowest_bad
        assert row[f"{limit.until}_verdict_at_limit"] == limit.verdict_at_limit
        assert row[f"{limit.until}_is_threshold"] == limit.is_threshold


def test_one_process_many_processes_and_threads_agree(
    study: Study, table: pd.DataFrame, monkeypatch: pytest.MonkeyPatch
) -> None:
    finer: dict[str, Any] = {"tolerance": TOLERANCE, "scan": SCAN}
    with ThreadPoolExecutor(1) as threads:
        pd.testing.assert_frame_equal(compare(study, "mujoco", threads, **finer), table)
    monkeypatch.setattr(spread, "cores", lambda: 1)
    monkeypatch.setattr(spread, "pool", lambda *_: pytest.fail("no pool on one core"))
    pd.testing.assert_frame_equal(compare(study, "mujoco", **finer), table)


def test_progress_counts_the_options(study: Study, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spread, "work", lambda task: [{"option": "any"}])
    seen: list[tuple[int, int]] = []
    with ThreadPoolExecutor(1) as threads:
        compare(study, "mujoco", threads, watch=lambda done, of: seen.append((done, of)))
    assert seen == [(1, 2), (2, 2)]


@pytest.mark.parametrize("error", [SidehillError("no such wheel"), ZeroDivisionError("by nothing")])
def test_a_failing_option_is_recorded_and_the_others_go_on(
    study: Study, error: Exception, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = find_limits

    def fail_once(case: Any, **options: Any) -> Any:
        if case.outfit == study.options[0].outfit:
            raise error
        return real(case, **options)

    monkeypatch.setattr("sidehill.sweep.row.find_limits", fail_once)
    with ThreadPoolExecutor(1) as threads:
        table = compare(study, "mujoco", threads, ("overturn",), radians(9.0), 2)
    assert str(error) in table["problem"][0]
    assert pd.isna(table["overturn_highest_good_deg"][0])
    assert pd.isna(table["overturn_is_threshold"][0])
    assert pd.isna(table["problem"][1])
    assert table["runs"][1] >= 2


class Dying(Executor):
    """An executor whose processes die."""

    def submit(self, *_: Any, **__: Any) -> "Future[Any]":  # type: ignore[override]
        future: Future[Any] = Future()
        future.set_exception(RuntimeError("killed"))
        return future


def test_a_dead_process_is_that_options_problem(study: Study) -> None:
    table = compare(study, "mujoco", Dying())
    assert list(table["problem"]) == ["its process failed 2 times: RuntimeError: killed"] * 2
    assert table["mass_kg"].isna().all()


def test_what_cannot_be_compared_is_refused_before_any_run(study: Study) -> None:
    with pytest.raises(InputError, match="until 'roll' is not known"):
        compare(study, "mujoco", Dying(), ("roll",))
    tilting = replace(study, scenario=load_scenario("tilt-table"))
    with pytest.raises(InputError, match="a tilt table has no verdict and no limits"):
        compare(tilting, "mujoco", Dying())


@pytest.fixture(autouse=True)
def _no_threads_left(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The pool must leave the environment as it was."""
    monkeypatch.setenv("OMP_NUM_THREADS", "7")
    yield
    assert os.environ["OMP_NUM_THREADS"] == "7"
