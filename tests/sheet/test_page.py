"""What the sheet of a small study says, and how it is made up."""

import re

from sheet.pages import read_page

from sidehill.caution import CAUTION, NOT_MODELLED
from sidehill.sheet.answers import past
from sidehill.sheet.cells import slope
from sidehill.sheet.first import first
from sidehill.sheet.make import Sheet
from sidehill.sheet.rows import FREE


def text_of(made: Sheet) -> str:
    return read_page(made.html)[0]


def test_page_one_comes_first_and_the_appendix_behind_it(made: Sheet) -> None:
    text = text_of(made)
    order = [
        "Bramble is to work across a bank of 10.0",
        "On this bank, as delivered",
        "How much is enough for",
        "Measure and ask before buying",
        CAUTION,
        "Appendix",
        "Side by side",
        "What each option buys",
        "How much is enough, standing",
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
    assert text.count("roll bar: mass in all 1,605") == 1  # once, for the baseline


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
            assert attributes["scope"] in ("col", "row", "rowgroup")
        if tag == "img":
            assert attributes["alt"]
    assert ("html", {"lang": "en"}) in tags
    assert b"url(http" not in made.html


def test_the_pareto_set_is_marked(made: Sheet) -> None:
    text = text_of(made)
    marked = [option.is_pareto for option in made.found.ranking.options]
    assert text.count(" Pareto ") == sum(marked)
    reached = [option.buys["good_up_to_deg"] for option in made.found.ranking.options]
    assert reached == sorted(reached, reverse=True)


def test_an_option_that_is_free_stands_among_the_free(made: Sheet) -> None:
    assert made.found.looks.same_as_free() == {"bucket low": "the bucket carried low"}
    page = first(made.found)
    groups = {row.name: row.group for row in page.rows}
    assert groups["the bucket carried low"] == FREE
    assert "bucket low" not in groups
    assert page.more == ""


def test_a_bad_bank_is_not_talked_up(made: Sheet) -> None:
    """Over this stone at this speed nothing that is compared holds."""
    text = text_of(made)
    assert "keep this machine off this bank" in text
    assert not made.found.answer.to_buy
