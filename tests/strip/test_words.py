"""A strip, its bands and limits in words and letters: nothing missing is made to look good."""

from dataclasses import replace

from posed_strip import FAILED, GOOD, HANGS, NO_START, OVER, posed_strip

from sidehill.run.facts import Facts, worse, worst, worst_seen
from sidehill.strip.bar import letter
from sidehill.strip.words import band_line, facts_words, island_words, limit_words


def test_a_band_is_told_with_what_is_missing() -> None:
    missed: Facts = ("planted", "stuck", False)
    strip = posed_strip((2.0, GOOD), (3.0, GOOD), (4.0, missed), (5.0, (None, None, None)),
                        (6.0, NO_START), (7.0, ("lifted", None, False)))  # fmt: skip
    assert [band_line(strip, band) for band in strip.bands()] == [
        "2.0 deg (3 %) to 3.0 deg (5 %): planted, across",
        "4.0 deg (7 %): planted, stuck, not everything met",
        "5.0 deg (9 %): not computed, not computed",
        "6.0 deg (11 %): on_stop, not_started",
        "7.0 deg (12 %): lifted, not computed",
    ]
    assert [band.count for band in strip.bands()] == [2, 1, 1, 1, 1]
    assert island_words(strip) == (
        "tried every 1 deg, each change narrowed to 0.1 deg: what comes and goes within one step "
        "of the scan is not seen"
    )


def test_where_one_fact_is_missing_nothing_is_known() -> None:
    for known in ((None, "arrived"), ("planted", None), (None, None)):
        assert letter(*known) == "?"
    assert letter("planted", "arrived") == "." and letter("overturned", "not_started") == "X"
    assert letter("planted", "not_across") == "/" and letter("on_stop", "not_started") == "o"
    whole: Facts = ("hopped", "across", True)
    for lacking in ((None, "across", True), ("planted", None, True)):
        assert worst_seen([whole, lacking]) == (None, None)
    assert worst_seen([]) == (None, None)
    assert worst_seen([("planted", "across", False)]) == ("planted", "not_across")
    assert worst_seen([whole, ("planted", "stuck", True)]) == ("hopped", "not_across")
    assert worst_seen([whole, NO_START, GOOD]) == ("on_stop", "not_started")
    assert worse("planted", "hopped") == worse("hopped", "planted") == "hopped"
    assert worse(None, "planted") is None and worse("planted", None) is None
    assert worst([]) is None and worst(["lifted", "planted"]) == "lifted"


def test_facts_and_limits_are_told_in_words() -> None:
    assert facts_words("overturned", "over") == "it goes over on the way"
    assert facts_words("overturned", "not_started") == (
        "it goes over; it cannot stand there on four wheels"
    )
    assert facts_words("lifted", "across") == "a wheel lifts; it comes across"
    assert facts_words("lifted", None) == facts_words(None, "across") == "not computed"
    stuck: Facts = ("planted", "stuck", False)
    assert limit_words(posed_strip((2.0, stuck), (3.0, OVER)), "lifted") == (
        "nothing is proved from the lowest tried (2.0 deg (4 %)) on: because"
    )
    untold = posed_strip((2.0, GOOD), (3.0, FAILED))
    silent = replace(untold.spots[1], outcome=replace(untold.spots[1].outcome, why=""))
    assert limit_words(replace(untold, spots=(untold.spots[0], silent)), "lifted") == (
        "not up to 2.0 deg (3 %); from there nothing is proved: not computed"
    )
    twice = posed_strip((2.0, HANGS), (3.0, GOOD), (4.0, HANGS), (5.0, GOOD), (6.0, GOOD))
    assert limit_words(twice, "on_stop") == (
        "no limit: it comes onto its axle stop at the lowest tried, not from 3.0 deg (6 %) to "
        "3.0 deg (5 %) and 5.0 deg (9 %) to 6.0 deg (10 %)"
    )
