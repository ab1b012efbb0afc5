"""Maps and curves of a sweep: what is not known or not driven never looks good."""

from typing import Any

import numpy as np
import pandas as pd
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from sidehill.picture import chances, curves, shares
from sidehill.picture import map as maps
from sidehill.picture.cells import cells
from sidehill.picture.curve import Side, points
from sidehill.picture.quantity import quantity
from sidehill.picture.shade import class_of, words
from sidehill.picture.style import Kind
from sidehill.picture.verdicts import FACES, UNKNOWN_FACE
from sidehill.sweep.probability import probability
from sidehill.sweep.sensitivity import sensitivity

X, Y = "outfit.rear_spacer_m", "ground.slope_deg"
LIFT = Side("", "lift_highest_good_deg", "lift")


def run(x: float, y: float, verdict: str | None, roll: float, problem: str | None = None) -> Any:
    return {X: x, Y: y, "verdict": verdict, "peak_roll_deg": roll, "problem": problem}


RUNS = pd.DataFrame(
    [
        run(0.0, 8.0, "crossed", 2.0),
        run(0.0, 8.0, "wheel_lifted", 5.01),
        run(0.0, 10.0, "crossed", 2.0),
        run(0.0, 10.0, "failed", np.nan),
        run(0.076, 8.0, "stalled", 0.5),
        run(0.076, 10.0, "overturned", 60.0),
        run(0.15, 8.0, "crossed", 1.0, problem="its process died"),
    ]
)  # 150 mm on 10 deg is missing


def limit(x: float, good: float, **other: Any) -> dict[str, Any]:
    return {
        X: x,
        "option": "a",
        "outfit.rear_ballast_kg": 0.0,
        "lift_highest_good_deg": good,
        "lift_lowest_bad_deg": 2.0 if np.isnan(good) else good + 0.1,
        "lift_verdict_at_limit": "wheel_lifted",
        "lift_is_threshold": not np.isnan(good),
        "rigid_lift_off_slope_deg": 25.0,
        "compliant_lift_off_slope_deg": 23.0,
        "problem": None,
    } | other


LIMITS = pd.DataFrame(
    [
        limit(0.00, 10.0),
        limit(0.02, 11.0, lift_verdict_at_limit="stalled"),
        limit(0.04, 12.0, lift_is_threshold=False),
        limit(0.06, 35.0, lift_verdict_at_limit=None, lift_lowest_bad_deg=np.nan),
        limit(0.08, np.nan),
        limit(0.10, 13.0, lift_verdict_at_limit="not_settled"),
        limit(0.12, np.nan, problem="broken", lift_verdict_at_limit=None),
    ]
)


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[Figure]:
    """The figures that are laid out from here on."""
    kept: list[Figure] = []
    for module in (maps, curves, chances, shares):
        monkeypatch.setattr(module, "image", lambda figure, kind: kept.append(figure) or b"")
    return kept


def texts(figure: Figure) -> list[str]:
    return [item.get_text() for item in figure.findobj(lambda item: hasattr(item, "get_text"))]


def at(of: str) -> dict[tuple[int, int], Any]:
    return {(cell.column, cell.row): cell for cell in cells(RUNS, X, Y, of).cells}


def test_a_cell_shows_its_worst_and_counts_the_unknown() -> None:
    seen = at("peak_roll_deg")
    assert (seen[0, 0].verdict, seen[0, 0].value, seen[0, 0].unknown) == ("wheel_lifted", 5.01, 0)
    assert (seen[0, 1].verdict, seen[0, 1].unknown) == ("crossed", 1)
    assert words(seen[0, 0], "peak_roll_deg") == "5.1"  # a peak rounds up


def test_missing_and_broken_rows_are_not_known() -> None:
    for of in ("verdict", "peak_roll_deg"):
        seen = at(of)
        assert class_of(seen[2, 0], of) is UNKNOWN_FACE  # a problem, though it says `crossed`
        assert class_of(seen[2, 1], of) is UNKNOWN_FACE  # no row at all


@pytest.mark.parametrize(("place", "verdict"), [((1, 0), "stalled"), ((1, 1), "overturned")])
def test_a_small_roll_of_a_run_that_ended_early_is_no_good_sign(
    place: tuple[int, int], verdict: str
) -> None:
    cell = at("peak_roll_deg")[place]
    assert class_of(cell, "peak_roll_deg") is FACES[verdict]
    assert words(cell, "peak_roll_deg") == ""


def test_the_unknown_part_of_a_cell_is_hatched_over_it(drawn: list[Figure]) -> None:
    maps.map_picture({"a": RUNS}, X, Y, "verdict", "t")
    patches = [p for p in drawn[0].axes[0].patches if isinstance(p, Rectangle)]
    hatched = sorted(p.get_xy() for p in patches if p.get_hatch() == UNKNOWN_FACE.hatch)
    assert hatched == [(-0.5, 0.5), (1.5, -0.5), (1.5, 0.5)]
    assert UNKNOWN_FACE.words in texts(drawn[0])
    assert any("worst of up to 2 cases" in text for text in texts(drawn[0]))


def test_a_map_of_limits_says_what_is_no_threshold(drawn: list[Figure]) -> None:
    maps.map_picture({"": LIMITS}, X, "outfit.rear_ballast_kg", "lift_highest_good_deg", "t")
    said = texts(drawn[0])
    assert {"10.0", "12.0 (!)", "none"} <= set(said)
    assert any("no threshold" in text for text in said)


def test_kinds_of_answers_on_a_curve() -> None:
    found = points(LIMITS, X, LIFT)
    assert [point.answer for point in found] == [
        "event", "ended", "alternates", "none found", "none good", "lost", "unknown"
    ]  # fmt: skip
    assert [point.is_threshold for point in found] == [True, True, False, False, False, True, False]
    assert found[0].value == 10.0  # the highest good one, not the middle of the bracket
    assert found[4].value == 2.0  # the lowest tried, where it is bad already
    assert np.isnan(found[6].value)


def test_no_line_goes_through_what_is_no_threshold(drawn: list[Figure]) -> None:
    curves.curves_picture({"a": LIMITS}, X, None, ("slope", ("lift",), "deg"), "t")
    pane = drawn[0].axes[2]
    line, *marks = pane.lines
    heights = np.asarray(line.get_ydata(), dtype=float)
    assert np.isnan(heights[[2, 3, 4, 6]]).all() and not np.isnan(heights[[0, 1, 5]]).any()
    is_open = [mark.get_markerfacecolor() == "white" for mark in marks]
    assert is_open == [False, False, True, True, False, True]  # the unknown one has no mark
    assert {"(!)", "?"} <= {text.get_text() for text in pane.texts}
    assert "(!) no threshold: good again higher up" in texts(drawn[0])


def test_static_and_driven_stand_side_by_side(drawn: list[Figure]) -> None:
    curves.curves_picture({"a": LIMITS}, X, None, ("slope", ("lift",), "deg"), "t")
    titles = [axes.get_title() for axes in drawn[0].axes[:3]]
    assert [title.split(",")[0] for title in titles] == [
        "standing still",
        "standing still",
        "driven",
    ]
    assert len({axes.get_ylim() for axes in drawn[0].axes[:3]}) == 1


def test_what_a_step_buys_is_rounded_down() -> None:
    base, more, none = (points(LIMITS, X, LIFT)[k] for k in (0, 1, 4))
    unit = quantity("lift_highest_good_deg")
    finer = curves.bought(base, more.__class__(0.02, 11.09, "event"), unit)
    assert finer == "+1.0°"
    assert curves.bought(none, more, unit) == "from none to 11.0°"
    assert curves.bought(base, none, unit) == "none good"
    assert curves.bought(base, points(LIMITS, X, LIFT)[2], unit) == "no threshold"


@pytest.mark.parametrize("kind", ["png", "svg"])
def test_same_bytes_every_time(kind: Kind) -> None:
    limits = ("slope", ("lift",), "deg")
    found = [probability(["crossed", "overturned", None], "overturned")]
    index = sensitivity(np.random.default_rng(1).random(4 * 64), ["drive.speed_m_s", "a"])

    def pages() -> list[bytes]:
        return [
            maps.map_picture({"a": RUNS, "b": RUNS}, X, Y, "peak_roll_deg", "t", kind),
            curves.curves_picture({"a": LIMITS}, X, None, limits, "t", kind),
            chances.chances_picture({"a": found}, "t", kind),
            shares.shares_picture({("a", "overturned"): index}, "t", kind),
        ]

    one = pages()
    assert one == pages()
    assert all(page.startswith(b"\x89PNG" if kind == "png" else b"<?xml") for page in one)


def test_chances_say_counts_and_unknown(drawn: list[Figure]) -> None:
    found = probability(["crossed"] * 97 + ["overturned"] * 2 + [None], "overturned")
    chances.chances_picture({"a": [found]}, "t")
    assert "2 of 100, 1 not known: 0.2 % to 8.6 %" in texts(drawn[0])
    [mark] = [line for line in drawn[0].axes[0].lines if line.get_marker() == "s"]
    assert float(np.asarray(mark.get_xdata())[0]) == pytest.approx(3.0)  # the unknown one as bad


def test_a_share_that_is_not_told_has_no_bar(drawn: list[Figure]) -> None:
    heavy = np.exp(5.0 * np.random.default_rng(5).normal(size=5 * 64))
    index = sensitivity(heavy, ["a", "b", "c"])
    shares.shares_picture({("o", "overturned"): index, ("o", "x"): "too few"}, "t")
    pane, other = drawn[0].axes
    told = sum(one.is_told for one in index.indices)
    assert len(pane.patches) == 2 * told < 6
    assert [text.get_text() for text in pane.texts] == ["?"] * (3 - told)
    assert "too few" in [text.get_text() for text in other.texts]


@pytest.mark.parametrize(
    ("column", "label"),
    [
        ("outfit.rear_spacer_m", "rear spacer, each side [mm]"),
        ("drive.speed_m_s", "speed [km/h]"),
        ("machine.front_tyre.stiffness_n_per_m", "front tyre stiffness [kN/m]"),
        ("feature.2.length_m", "length of feature 2 [mm]"),
        ("ground.friction", "friction"),
        ("option", "option"),
    ],
)
def test_columns_in_words(column: str, label: str) -> None:
    assert quantity(column).label == label


def test_long_lengths_are_in_metres() -> None:
    assert quantity("course.length_m", [9.0, 12.0]).label == "length [m]"
    assert quantity("outfit.rear_spacer_m", [0.076]).said(0.076) == "76 mm"
    assert quantity("ground.slope_deg").tick(14.0, "\n") == "14\n25 %"
