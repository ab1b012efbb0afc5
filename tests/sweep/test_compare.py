"""The table of a comparison: its numbers, its order, what it does with failures."""

import json
from dataclasses import replace
from math import degrees, radians
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from sidehill.files.errors import EngineError, InputError, SidehillError
from sidehill.flat import flatten
from sidehill.machine.build import fit
from sidehill.rest import rest_slopes
from sidehill.scenario.file import load_scenario
from sidehill.sheet.make import make_sheet
from sidehill.sheet.wish import Wish
from sidehill.statics.report import tip
from sidehill.statics.tipping import GRAVITY
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.quantity import VARIED
from sidehill.strip.strip import Strip, take_strip
from sidehill.study import strips
from sidehill.study.make import make_study
from sidehill.study.study import Study, load_study
from sidehill.sweep.compare import compare, kinds
from sidehill.sweep.statics import DECK_FRICTION

HOW: dict[str, Any] = {"scan": radians(8.0), "tolerance": radians(4.0)}


@pytest.fixture(scope="module")
def study() -> Study:
    """Two options of the demo on a short plain bank."""
    demo = load_study("demo")
    short = {"course.length": 4.0, "feature.1.at": 3.2}
    return replace(demo, options=demo.options[:3:2], scenario=demo.scenario.with_values(short))


@pytest.fixture(scope="module")
def table(study: Study) -> pd.DataFrame:
    return compare(study, "compiled", **HOW)


def test_columns_order_and_types(study: Study, table: pd.DataFrame) -> None:
    assert dict(table.dtypes.astype(str)) == kinds(VARIED["slope"])
    assert list(table["option"]) == [option.name for option in study.options]
    assert list(table["strip_engine"]) == ["compiled"] * 2
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


def test_limits_are_those_of_its_strip(study: Study, table: pd.DataFrame) -> None:
    strip = take_strip(study.case(study.options[0]), engine="compiled", **HOW).to_dict()
    row = table.iloc[0]
    for event in ALL_EVENTS:
        for end in ("good_up_to", "first_bad", "unknown_from"):
            wanted, got = strip["events"][event][end], row[f"{event}_{end}_deg"]
            assert got == wanted or (wanted is None and pd.isna(got))
        assert json.loads(row[f"{event}_good_again"]) == strip["events"][event]["good_again"]
    bands = json.loads(row["strip_bands"])
    tried = dict(
        zip(strip["values"], zip(strip["stability"], strip["progress"], strict=True), strict=True)
    )
    for low, high, *facts in bands:
        inside = {pair for value, pair in tried.items() if low <= value <= high}
        assert inside == {tuple(facts[:2])}


@pytest.mark.parametrize("where", ["strip", "statics"])
def test_a_failing_option_is_recorded_and_the_others_go_on(
    study: Study, where: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    from sidehill.sweep import compare as module

    name, home = {
        "strip": ("take_strip", strips), "statics": ("statics_columns", module)
    }[where]  # fmt: skip
    real = getattr(home, name)

    def fail_once(case: Any, *rest: Any, **options: Any) -> Strip:
        if case.outfit == study.options[0].outfit:
            raise SidehillError("no such wheel")
        return real(case, *rest, **options)  # type: ignore[no-any-return]

    monkeypatch.setattr(home, name, fail_once)
    table = compare(study, "compiled", high=radians(9.0), **HOW)
    assert table["problem"][0] == "no such wheel"
    for column in ("overturned_good_up_to_deg", "tried_to_deg", "mass_kg", "strip_bands"):
        assert pd.isna(table[column][0])
    assert pd.isna(table["problem"][1])
    assert table["strip_runs"][1] >= 2


def test_what_is_told_while_it_runs(study: Study) -> None:
    said: list[str] = []
    compare(study, "compiled", say=said.append, high=radians(9.0), **HOW)
    assert [text.partition(" (")[0] for text in said] == [option.name for option in study.options]


def test_what_cannot_be_compared_is_refused_before_any_run(
    study: Study, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(strips, "take_strip", lambda *_, **__: pytest.fail("run"))
    with pytest.raises(InputError, match="limit of 'roll' is not known"):
        compare(study, of="roll")
    with pytest.raises(EngineError, match="engine 'steam' is not known"):
        compare(study, "steam")
    tilting = replace(study, scenario=load_scenario("tilt-table"))
    with pytest.raises(InputError, match="nothing is driven on a tilt table"):
        compare(tilting)


def test_several_machines_are_refused_where_one_is_shown(study: Study, tmp_path: Path) -> None:
    """The first of them stood for all, and nothing said so."""
    both = make_study(["bramble", "sorrel"], study.scenario)
    assert {case.machine.name for case in both.cases(both.options[0])} == {"Bramble", "Sorrel"}
    for shows_one in (
        lambda: compare(both, "compiled"),
        lambda: strips.strips_of(both),
        lambda: make_sheet(both, tmp_path / "sheet.html", Wish(tmp_path)),
    ):
        with pytest.raises(InputError, match=r"2 machines \(Bramble, Sorrel\).*sidehill sweep"):
            shows_one()


def test_one_machine_that_varies_is_the_one(tmp_path: Path) -> None:
    file = tmp_path / "one.toml"
    file.write_text(
        'title = "One"\nmachine = "bramble"\nscenario = "bank-plain"\n'
        '[vary]\n"machine" = ["sorrel"]\n',
        encoding="utf-8",
    )
    study = load_study(file)
    assert study.machine.name == study.case(study.options[0]).machine.name == "Sorrel"
