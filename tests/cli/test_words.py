"""Limits and angles in words: nothing missing is made to look good."""

import pytest
from posed_strip import FAILED, GOOD, HANGS, HOPPED, LIFTED, OVER, STUCK, posed_strip

from sidehill.run.facts import NOT_STARTED, PROGRESS, STABILITY
from sidehill.run.words import least, peak, threshold
from sidehill.strip.limits import ALL_EVENTS
from sidehill.strip.strip import Strip
from sidehill.strip.words import EVENT_WORDS, facts_words, limit_words


def test_every_fact_and_event_has_words() -> None:
    assert all(STABILITY.values()) and all(PROGRESS.values())
    assert set(EVENT_WORDS) == {*ALL_EVENTS, NOT_STARTED}
    assert facts_words(None, None) == "not computed"


@pytest.mark.parametrize(
    ("strip", "event", "said"),
    [
        (
            posed_strip((2.0, GOOD), (14.24, GOOD), (14.28, LIFTED)),
            "lifted",
            "not up to 14.2 deg (25 %); then a wheel lifts",
        ),
        (
            posed_strip((2.0, LIFTED), (35.0, OVER)),
            "lifted",
            "a wheel lifts at every side slope tried, from 2.0 deg (4 %) on",
        ),
        (
            posed_strip((2.0, HOPPED), (35.0, HOPPED)),
            "lifted",
            "not up to 35.0 deg (70 %), the highest tried",
        ),
        (
            posed_strip((2.0, GOOD), (3.0, STUCK)),
            "overturned",
            "not up to 2.0 deg (3 %); from there nothing is proved: because",
        ),
        (
            posed_strip((2.0, GOOD), (3.0, FAILED)),
            "overturned",
            "not up to 2.0 deg (3 %); from there nothing is proved: because",
        ),
        (
            posed_strip((2.0, HANGS), (3.0, GOOD)),
            "on_stop",
            "no limit: it comes onto its axle stop at the lowest tried, not from 3.0 deg (6 %) to "
            "3.0 deg (5 %)",
        ),
    ],
)
def test_a_limit_in_one_line(strip: Strip, event: str, said: str) -> None:
    assert limit_words(strip, event) == said


def test_a_strip_that_alternates_says_so() -> None:
    strip = posed_strip((2.0, GOOD), (3.0, LIFTED), (4.0, GOOD))
    assert limit_words(strip, "lifted").endswith("; result jumps above that")


def test_unknown_numbers_say_so() -> None:
    assert threshold(None) == "not computed"
    assert peak(None) == peak(float("nan")) == least(None) == "not computed"
    assert peak(9.91) == "10.0 deg"
    assert peak(-9.91) == "-10.0 deg"
    assert threshold(9.99) == "9.9 deg (17 %)"
    assert least(9.99) == "9.9 deg"
    assert least(0.0) == "lost"
