"""What the sheet of a small study says, and how it is made up."""

import re

import pytest
from sheet.pages import read_page

from sidehill.caution import CAUTION, NOT_MODELLED
from sidehill.sheet.answers import past
from sidehill.sheet.cells import slope
from sidehill.sheet.make import Sheet


def text_of(made: Sheet) -> str:
    return read_page(made.html)[0]


def test_it_starts_with_question_caution_and_the_cheap_help(made: Sheet) -> None:
    text = text_of(made)
    order = [
        "Bramble is to work on “Bank with a stone”. Of 3 ways to fit it, which buys most",
        CAUTION,
        'A lower bucket beats spacers: "bucket low" adds',
        "What each option buys",
        "How much is enough",
        "Side by side",
        "What it costs the machine",
        "Whether it fits",
        "How far to trust it",
        "How to get it again",
    ]
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_lower_bound_first_best_estimate_in_brackets(made: Sheet) -> None:
    text = text_of(made)
    for standing in made.found.standing.values():
        interval = standing.lift_off
        assert not isinstance(interval, str)
        assert interval.low < interval.best < interval.high
        assert f"{slope(interval.low)} [{slope(interval.best)}]" in text
    assert "counts most" in text and "CG height" in text


def test_what_is_first_but_past_a_limit_says_so(made: Sheet) -> None:
    """Bramble with 250 kg in the bucket is 5 kg over what its roll bar was tested for."""
    found, text = made.found, text_of(made)
    for name in (found.delivered, found.best):
        over = past(found, name)
        assert "roll bar: mass in all" in over
        assert f"past a limit: {'; '.join(over)}" in text
    assert "Every option is past some rating, rule or clearance" in text


def test_source_defaults_and_what_is_not_modelled_are_told(made: Sheet) -> None:
    text = text_of(made)
    assert "where its numbers come from invented" in text
    assert "run.step = 0.001 s" in text
    for words in NOT_MODELLED:
        assert words in text
    assert made.found.key in text
    assert "sidehill sheet" in text and "--quick" in text


def test_no_word_permits(made: Sheet) -> None:
    text = text_of(made)
    for word in ("safe", "can take", "permits", "allowed to"):
        assert not re.search(rf"\b{word}\b", text)


def test_nothing_is_loaded_and_headers_have_a_scope(made: Sheet) -> None:
    _, tags = read_page(made.html)
    for tag, attributes in tags:
        for name in ("src", "href", "xlink:href", "poster"):
            value = attributes.get(name)
            assert value is None or value.startswith(("data:", "#"))
        assert tag != "script"
        if tag == "th":
            assert attributes["scope"] in ("col", "row")
        if tag == "img":
            assert attributes["alt"]
    assert ("html", {"lang": "en"}) in tags
    assert b"url(http" not in made.html


def test_gains_are_in_the_table_and_the_pareto_set_is_marked(made: Sheet) -> None:
    text = text_of(made)
    marked = [option.is_pareto for option in made.found.ranking.options]
    assert text.count(" Pareto ") == sum(marked)
    low, wide, delivered = made.found.ranking.options
    assert (low.option, wide.option) == ("bucket low", "rear spacers 76 mm")
    assert not delivered.is_pareto
    gain = low.gains["least_lift_off_slope_deg"]
    assert gain == pytest.approx(8.9, abs=0.3)
    assert "+8.9 deg" in text.replace("\xa0", " ")


def test_enough_does_not_hide_that_a_wheel_lifts_when_driven(made: Sheet) -> None:
    """Over the stone a wheel of Bramble lifts on any slope, whatever is reached standing."""
    text = text_of(made)
    assert "at no slope tried" in text
    assert "Driven over this scenario it lifts a wheel below that already." in text
    assert "reached without one: 11.2 deg" in text  # by the rigid slope, which overstates
