"""How far a strip is good, read off letters by hand."""

from dataclasses import replace
from math import degrees

import pytest
from advice.strips import spot, strip

from sidehill.advice.reach import reach_of


def ends(letters: str) -> tuple[float | None, float | None]:
    """[deg] planted up to, good up to."""
    reach = reach_of(strip(letters))
    return tuple(
        None if value is None else round(degrees(value), 9)
        for value in (reach.planted_up_to, reach.good_up_to)
    )


@pytest.mark.parametrize(
    ("letters", "expected"),
    [
        ("pphhllo", (2.0, 4.0)),
        ("hhl", (None, 2.0)),
        ("lpp", (None, None)),
        ("ppp", (3.0, 3.0)),
        ("pps", (2.0, 2.0)),  # stuck before the stone proves nothing
        ("ppm", (2.0, 2.0)),  # passing beside it is not meeting it
        ("ppL", (2.0, 2.0)),  # leaning is short of going over, and not good
        ("pp?p", (2.0, 2.0)),  # what could not be computed is not good
        ("pHHn", (1.0, 3.0)),
        ("phph", (1.0, 4.0)),  # planted again after a hop counts as good, not as planted
    ],
)
def test_ends(letters, expected) -> None:
    assert ends(letters) == expected


def test_an_island_beyond_is_told_and_counts_only_below_what_is_spoken_of() -> None:
    reach = reach_of(strip("ppllpl"))
    assert [round(degrees(value)) for value in reach.good_again] == [5]
    assert reach.is_clear_to(reach.tried_from * 4.9)
    assert not reach.is_clear_to(reach.tried_from * 6.0)


def test_one_engine_that_says_otherwise_ends_what_is_good() -> None:
    whole = strip("pppp")
    spots = (*whole.spots[:2], spot(3.0, "p", again="l"), whole.spots[3])
    reach = reach_of(replace(whole, spots=spots))
    assert degrees(reach.good_up_to) == pytest.approx(2.0)
    hop = reach_of(replace(whole, spots=(*whole.spots[:2], spot(3.0, "p", again="h"))))
    assert degrees(hop.planted_up_to) == pytest.approx(2.0)
    assert degrees(hop.good_up_to) == pytest.approx(3.0)
