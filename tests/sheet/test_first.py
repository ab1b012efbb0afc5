"""Page one of a dealer's question: judged again by runs of the test's own."""

import json
import re
from math import degrees, radians

import pytest
from sheet.pages import read_page

from sidehill.caution import CAUTION
from sidehill.cli.sheet_report import data
from sidehill.files.units import show_slope
from sidehill.run import run
from sidehill.run.outcome import read
from sidehill.sheet.costs import costs_of
from sidehill.sheet.first import first
from sidehill.sheet.make import Sheet
from sidehill.sheet.rows import FREE, MOST_OPTIONS, OPTION, Row

GOOD_SIGNS = ("planted", "hopped")


@pytest.fixture(scope="module")
def text(dealer: Sheet) -> str:
    """Of page one alone."""
    whole = read_page(dealer.html)[0].replace("\N{NO-BREAK SPACE}", " ")
    return whole[: whole.index("Appendix:")]


@pytest.fixture(scope="module")
def rows(dealer: Sheet) -> dict[str, Row]:
    return {row.name: row for row in first(dealer.found).rows}


def again(row: Row, slope: float):
    """The outcome of its case on a slope [deg]: run here, not read off the sheet."""
    track = run(row.look.case.with_slope(radians(slope)), "compiled")
    return read(track.state, track.flat.case)


def is_fine(outcome, most_s: float, most_m: float) -> bool:
    """By numbers: it got there over everything, and no wheel was up longer or higher."""
    arrived = outcome.progress in ("across", "halted") and outcome.met
    return arrived and outcome.longest_spell_s <= most_s and outcome.most_daylight_m <= most_m


def test_the_bank_is_told_in_words(text: str) -> None:
    for words in ("12.0 deg (21 %)", "51 mm (2.0 in) high", "4.8 km/h (3.0 mph)", "91 kg (200 lb)"):
        assert words in text
    assert "front drive engaged" in text and "carried low" in text


def test_what_is_free_is_said_before_what_is_bought(text: str) -> None:
    order = [
        "On this bank, as delivered: a wheel lifts",
        "Costs nothing: half the speed",
        "The bucket is carried low already",
        "If one thing is bought: “rear box 550 lb”",
        "up and down instead of across",
        "How much is enough",
        "Measure and ask",
        CAUTION,
    ]
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert "Tipping backward on starting uphill is not computed" in text
    assert "the loader needs rear ballast anyway" in text


def test_up_and_down_is_never_in_the_answer(dealer: Sheet) -> None:
    assert not any(
        "straight" in line or "up and down" in line for line in dealer.found.answer.lines
    )


def test_each_sign_is_what_a_run_of_its_own_comes_to(rows: dict[str, Row]) -> None:
    for row in rows.values():
        outcome = again(row, 12.0)
        assert (row.sign.kind in GOOD_SIGNS) == is_fine(outcome, 0.5, 0.05), row.name
        assert (row.sign.kind == "planted") == is_fine(outcome, 0.0, 1.0), row.name


def test_every_whole_degree_below_a_limit_is_good_and_beyond_it_is_not(
    rows: dict[str, Row],
) -> None:
    for row in rows.values():
        reach = row.look.reach
        assert reach is not None
        limits = ((reach.planted_up_to, 0.0, 1.0), (reach.good_up_to, 0.5, 0.05))
        for limit, most_s, most_m in limits:
            top = 0.0 if limit is None else degrees(limit)
            for slope in range(1, int(top) + 1):
                assert is_fine(again(row, slope), most_s, most_m), (row.name, slope)
            if top < 34.0:  # narrowed to 0.25 deg: half a degree further is past it
                beyond = again(row, max(top, 1.0) + (0.5 if top else 0.0))
                assert not is_fine(beyond, most_s, most_m), (row.name, top)


def test_limits_are_rounded_down_and_read_so(rows: dict[str, Row], text: str) -> None:
    for row in rows.values():
        for shown, value in zip(
            row.reach, (row.look.reach.planted_up_to, row.look.reach.good_up_to), strict=True
        ):
            assert shown == ("no slope" if value is None else show_slope(value, "down"))
            assert shown in text


def test_no_more_than_eight_options_and_the_one_to_buy_among_them(dealer: Sheet) -> None:
    page = first(dealer.found)
    names = [row.name for row in page.rows if row.group == OPTION]
    assert len(names) <= MOST_OPTIONS
    assert {offer.look.name for offer in dealer.found.answer.to_buy} <= set(names)
    left = len(dealer.found.study.options) - 1 - len(names)
    assert (f"{left} more of them are in the appendix" in page.more) == (left > 0)


def test_what_is_new_stands_apart_from_what_is_so_already(dealer: Sheet, text: str) -> None:
    already, new = text.index("already as delivered:"), text.index("New with some of them:")
    assert "rear axle: share with the bucket full" in text[already:new]
    assert "at least 25.0 %" in text[already:new]
    assert "roll bar: mass in all" in text[new:]
    box = next(row for row in first(dealer.found).rows if row.name == "rear box 550 lb")
    assert box.costs is not None and box.costs.new == ("roll bar",)


@pytest.mark.parametrize("inches", [2, 3, 4])
def test_the_hub_ratio_is_that_of_the_lever_arms(dealer: Sheet, inches: int) -> None:
    """The load acts a spacer further out (moment balance of a wheel, textbook): its arm is 106 mm
    as delivered. The wheel's weight hangs on the same arm, so that it takes off the same part;
    the spacer's own mass, and what it adds to the load, are a few percent."""
    costs = costs_of(dealer.found, f"rear spacers {inches} in")
    ratio = (0.106 + inches * 0.0254) / 0.106
    assert costs.rear_hub_ratio == pytest.approx(ratio, rel=0.05)


def test_the_page_the_json_and_the_table_say_the_same(dealer: Sheet, text: str) -> None:
    told = json.loads(json.dumps(data(dealer.found), allow_nan=False))
    table = {option["option"]: option for option in told["options"]}
    for way in told["ways"]:
        assert way["name"] in text
        for key in ("planted_up_to_deg", "good_up_to_deg"):
            if way[key] is not None:
                assert show_slope(radians(way[key]), "down") in text
            if way["group"] != FREE:
                assert table[way["name"]]["buys"][key] == pytest.approx(way[key] or 0.0)
        assert way["is_good"] == (way["sign"] in GOOD_SIGNS)
    assert [line in text for line in told["answer"]] == [True] * len(told["answer"])
    for line in told["already"] + told["new"] + told["measure_and_ask"]:
        assert line in text
    assert told["slope_deg"] == pytest.approx(12.0)


def test_words_of_the_appendix_and_words_that_permit_are_not_on_it(text: str) -> None:
    for word in ("Pareto", "closed form", "without loss", "interval", "lower bound"):
        assert word not in text
    for word in ("safe", "can take", "permits"):
        assert not re.search(rf"\b{word}\b", text)
