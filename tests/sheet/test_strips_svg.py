"""Strips of page one, read off their drawing: nowhere does it look better than a run beside it."""

import re

import pytest
from picture.colours import lightness
from posed_strip import FAILED, GOOD, HANGS, HOPPED, LIFTED, NO_START, OVER, STUCK, posed_strip

from sidehill.picture.faces import FACES
from sidehill.run.facts import Facts
from sidehill.sheet.strips_svg import legend, pattern, strip_svg
from sidehill.strip.strip import Strip

EVERY: list[Facts] = [GOOD, HOPPED, LIFTED, HANGS, OVER, STUCK, NO_START]
ARRIVED = ("across", "halted")
RECT = re.compile(r'<rect x="([\d.]+)" y="4" width="([\d.]+)" height="14" fill="([^"]+)"/>')


def at(strip: Strip, slope: float) -> tuple[str, str]:
    """Shade and pattern [deg] of what lies uppermost there; a pattern of none is empty."""
    shade, hatch = "", ""
    for left, width, fill in RECT.findall(strip_svg(strip, 30.0, None)):
        if float(left) <= 10.0 * slope <= float(left) + float(width):
            shade, hatch = (shade, fill) if fill.startswith("url") else (fill, "")
    return shade, hatch


@pytest.mark.parametrize("other", EVERY)
@pytest.mark.parametrize("one", EVERY)
def test_the_worse_engine_and_the_worse_neighbour_are_drawn(one: Facts, other: Facts) -> None:
    """All pairs of facts, each way in which two can meet; the shades' own lightness judges."""
    worse = min((str(f[0]) for f in (one, other)), key=lambda name: lightness(FACES[name].fill))
    got_there = all(f[1] in ARRIVED and f[2] for f in (one, other))
    for strip in (
        posed_strip((1.0, one), (3.0, other)),
        posed_strip((1.0, one, other), (3.0, one)),
        posed_strip((1.0, one), (3.0, one, other)),
    ):
        shade, hatch = at(strip, 2.0)
        assert shade == FACES[worse].fill
        assert bool(hatch) == (
            not got_there and (worse != "overturned" or NO_START in (one, other))
        )


def test_what_is_not_known_in_either_engine_is_crossed() -> None:
    for strip in (
        posed_strip((1.0, GOOD), (2.0, FAILED), (3.0, GOOD)),
        posed_strip((1.0, GOOD), (2.0, GOOD, FAILED), (3.0, GOOD)),
    ):
        assert at(strip, 1.5) == at(strip, 2.5) == ("white", "url(#crossed)")
        assert "not known" in strip_svg(strip, 30.0, None)


def test_an_island_is_seen_however_narrow() -> None:
    strip = posed_strip((1.0, GOOD), (4.0, GOOD), (4.01, OVER), (4.02, LIFTED), (9.0, LIFTED))
    drawn = [
        float(width)
        for _, width, fill in RECT.findall(strip_svg(strip, 30.0, None))
        if fill == FACES["overturned"].fill
    ]
    assert drawn and all(width >= 1.5 for width in drawn)
    assert at(strip, 4.05)[0] == FACES["overturned"].fill


def test_words_of_a_strip_end_what_is_good_before_it_ends() -> None:
    strip = posed_strip((1.0, GOOD), (12.38, GOOD), (12.39, LIFTED), (20.0, LIFTED))
    said = strip_svg(strip, 30.0, None)
    assert "1.0 to 12.3 deg all wheels stay on the ground" in said
    assert "12.3 to 20.0 deg a wheel lifts" in said


def test_every_pattern_is_defined_and_in_the_legend() -> None:
    strip = posed_strip((1.0, STUCK), (2.0, STUCK), (3.0, NO_START), (4.0, NO_START), (5.0, FAILED))
    used = set(re.findall(r"url\(#(\w+)\)", strip_svg(strip, 30.0, None)))
    assert used == set(re.findall(r'<pattern id="(\w+)"', pattern()))
    shown = [set(re.findall(r"url\(#(\w+)\)", swatch)) for swatch, _ in legend()]
    assert used == set().union(*shown)
    assert len({words for _, words in legend()}) == len(legend())
