"""Strips as pictures and as a line of letters: nothing unproved is drawn as good."""

from math import radians

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from picture.colours import lightness
from posed_strip import FAILED, GOOD, HANGS, HOPPED, LIFTED, NO_START, OVER, STUCK, posed_strip

from sidehill.picture import strip as pictures
from sidehill.picture.faces import FACES, HATCHES, UNKNOWN_FACE
from sidehill.picture.style import Kind
from sidehill.run.facts import Facts
from sidehill.strip.bar import bar, legend
from sidehill.strip.strip import Strip

LADDER = posed_strip(
    *((1.0, GOOD), (9.0, GOOD), (9.1, HOPPED), (12.0, HOPPED), (12.1, LIFTED), (15.0, LIFTED)),
    *((15.1, HANGS), (20.0, HANGS), (20.1, STUCK), (22.0, STUCK), (22.1, NO_START)),
    *((26.0, NO_START), (26.1, OVER), (35.0, OVER)),
)


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[Figure]:
    kept: list[Figure] = []
    monkeypatch.setattr(pictures, "image", lambda figure, kind: kept.append(figure) or b"")
    return kept


def bands(figure: Figure) -> list[tuple[float, float, str, str]]:
    """(from, to, fill, hatch) of every piece, in order."""
    from matplotlib.colors import to_hex

    pieces = [p for p in figure.axes[0].patches if isinstance(p, Rectangle) and p.get_fill()]
    return [
        (p.get_x(), p.get_x() + p.get_width(), to_hex(p.get_facecolor()), p.get_hatch() or "")
        for p in pieces
    ]


def at(figure: Figure, value: float) -> tuple[str, str]:
    [found] = [(fill, hatch) for low, high, fill, hatch in bands(figure) if low < value < high]
    return found


def words(figure: Figure) -> str:
    found = figure.findobj(lambda item: hasattr(item, "get_text"))
    return "\n".join(item.get_text() for item in found)


def test_every_value_has_the_face_of_its_run(drawn: list[Figure]) -> None:
    pictures.strips_picture({"": LADDER}, "t")
    for value, stability, arrival in (
        (5.0, "planted", "arrived"),
        (10.0, "hopped", "arrived"),
        (13.0, "lifted", "arrived"),
        (17.0, "on_stop", "not_across"),
        (21.0, "planted", "not_across"),
        (24.0, "on_stop", "not_started"),
    ):
        assert at(drawn[0], value) == (FACES[stability].fill, HATCHES[arrival])
    assert at(drawn[0], 30.0) == (FACES["overturned"].fill, "")


def test_between_two_runs_the_worse_one_is_drawn(drawn: list[Figure]) -> None:
    """Neighbours over all pairs of facts: the piece is as dark as the worse, and marked as it."""
    every: list[Facts] = [GOOD, HOPPED, LIFTED, HANGS, OVER, STUCK, NO_START]
    for a in every:
        for b in every:
            pictures.strips_picture({"": posed_strip((1.0, a), (3.0, b))}, "t")
            fill, hatch = at(drawn[-1], 2.0)
            assert lightness(fill) == min(lightness(FACES[str(f[0])].fill) for f in (a, b))
            got_there = all(facts[1] in ("across", "halted") for facts in (a, b))
            assert got_there == (not hatch and fill != FACES["overturned"].fill)


def test_a_failed_run_is_not_known_on_both_its_sides(drawn: list[Figure]) -> None:
    pictures.strips_picture({"": posed_strip((1.0, GOOD), (2.0, FAILED), (3.0, GOOD))}, "t")
    assert at(drawn[0], 1.5) == at(drawn[0], 2.5) == ("#ffffff", UNKNOWN_FACE.hatch)


def test_where_engines_differ_the_worse_is_drawn(drawn: list[Figure]) -> None:
    pictures.strips_picture({"": posed_strip((1.0, GOOD), (2.0, GOOD, OVER), (3.0, OVER))}, "t")
    assert at(drawn[0], 1.5)[0] == FACES["overturned"].fill


def test_lift_off_asked_slope_and_groups(drawn: list[Figure]) -> None:
    strips = {"bucket high, bare": LADDER, "bucket high, wide": LADDER, "bucket low, bare": LADDER}
    pictures.strips_picture(
        strips, "title", asked=radians(10.0), lift_offs={"bucket high, wide": radians(14.0)}
    )
    said = words(drawn[0])
    for text in ("title", "bucket high", "bucket low", "wide", "asked about: 10.0 deg (18 %)"):
        assert text in said
    assert said.count("bucket high") == 1
    assert "it does not permit" in said and "is not seen" in said
    ticks = [line for line in drawn[0].axes[0].lines if list(line.get_xdata()) == [14.0, 14.0]]
    middle = {float(np.mean(np.asarray(tick.get_ydata()))) for tick in ticks}
    assert middle == {drawn[0].axes[0].get_yticks()[1]}
    [asked] = [line for line in drawn[0].axes[0].lines if list(line.get_xdata()) == [10.0, 10.0]]
    assert list(asked.get_ydata()) == [0, 1]  # of the pane: through all strips


def test_speeds_are_shown_in_kmh(drawn: list[Figure]) -> None:
    pictures.strips_picture({"": posed_strip((0.5, GOOD), (2.0, LIFTED), of="speed")}, "t")
    axes = drawn[0].axes[0]
    assert axes.get_xlabel() == "speed [km/h]"
    assert axes.xaxis.get_major_formatter()(1.0, 0) == "3.6"


@pytest.mark.parametrize("kind", ["png", "svg"])
def test_same_bytes_every_time(kind: Kind) -> None:
    one = pictures.strips_picture({"a": LADDER}, "$t", kind, asked=0.1)
    assert one == pictures.strips_picture({"a": LADDER}, "$t", kind, asked=0.1)
    assert one.startswith(b"\x89PNG" if kind == "png" else b"<?xml")


def letters(strip: Strip, width: int) -> str:
    """The same line by brute force: the worst letter of a thousand places in each part."""
    order = ".-=#/oX?"
    spots = [(spot.value, spot.facts) for spot in strip.spots]
    low, high = spots[0][0], spots[-1][0]
    line = ""
    for k in range(width):
        inside = low + (high - low) * (k + (np.arange(1000) + 0.5) / 1000.0) / width
        seen = set()
        for place in inside:
            j = max(i for i, (value, _) in enumerate(spots) if value <= place)
            pair = [spots[j][1], spots[min(j + 1, len(spots) - 1)][1]]
            seen.add(max(map(mark, pair), key=order.index))
        line += max(seen, key=order.index)
    return line


def mark(facts: Facts) -> str:
    stability, progress, met = facts
    if stability is None:
        return "?"
    if stability == "overturned":
        return "X"
    if progress == "not_started":
        return "o"
    if progress not in ("across", "halted") or not met:
        return "/"
    return {"planted": ".", "hopped": "-", "lifted": "=", "on_stop": "#"}[stability]


def test_the_line_of_letters_shows_the_worst_of_each_part() -> None:
    islands = posed_strip((1.0, GOOD), (4.0, GOOD), (4.01, OVER), (4.02, GOOD), (9.0, GOOD))
    for strip in (LADDER, islands):
        for width in (7, 20, 60):
            assert bar(strip, width) == letters(strip, width)
    assert "X" in bar(islands, 10)
    assert [line[0] for line in legend(bar(LADDER))] == list(".-=X/o")


def test_one_value_alone_is_no_line_of_good_letters() -> None:
    assert set(bar(posed_strip((1.0, GOOD)), 10)) == {"?"}
