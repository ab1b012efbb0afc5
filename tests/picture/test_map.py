"""Maps and curves of a sweep: what is not known or not driven never looks good."""

from typing import Any

import numpy as np
import pandas as pd
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from sidehill.picture import chances, curves, fragility, shares
from sidehill.picture import map as maps
from sidehill.picture.cells import cells
from sidehill.picture.curve import Side, points
from sidehill.picture.faces import FACES, HATCHES, UNKNOWN_FACE
from sidehill.picture.quantity import quantity
from sidehill.picture.shade import class_of, words
from sidehill.picture.style import Kind
from sidehill.strip.quantity import VARIED
from sidehill.study.plan import Find
from sidehill.sweep.limits import ANSWERS
from sidehill.sweep.measure import answers
from sidehill.sweep.probability import probability
from sidehill.sweep.sensitivity import sensitivity

X, Y = "outfit.rear_spacer_m", "ground.slope_deg"
SLOPE = VARIED["slope"]
LIFT = Side("", "lifted_good_up_to_deg", "lifted", SLOPE)
FIND = Find(until="lifted", tolerance="0.1 deg")
GOOD, LIFTED = ("planted", "across", True), ("lifted", "across", True)
STUCK, OVER = ("planted", "stuck", False), ("overturned", "over", False)
FAILED = (None, None, None)


def run(x: float, y: float, facts: Any, roll: float, problem: str | None = None) -> Any:
    known = dict(zip(("stability", "progress", "met"), facts, strict=True))
    return {X: x, Y: y, **known, "peak_roll_deg": roll, "problem": problem}


RUNS = pd.DataFrame(
    [
        run(0.0, 8.0, GOOD, 2.0),
        run(0.0, 8.0, LIFTED, 5.01),
        run(0.0, 10.0, GOOD, 2.0),
        run(0.0, 10.0, FAILED, np.nan, problem="numbers went bad"),
        run(0.076, 8.0, STUCK, 0.5),
        run(0.076, 10.0, OVER, 60.0),
        run(0.15, 8.0, GOOD, 1.0, problem="its process died"),
    ]
)  # 150 mm on 10 deg is missing


def limit(x: float, good: float, **other: Any) -> dict[str, Any]:
    return {
        X: x,
        "option": "a",
        "outfit.rear_ballast_kg": 0.0,
        "lifted_good_up_to_deg": good,
        "lifted_first_bad_deg": 2.0 if np.isnan(good) else good + 0.1,
        "lifted_unknown_from_deg": np.nan,
        "lifted_good_again": "[]",
        "tried_from_deg": 2.0,
        "tried_to_deg": 35.0,
        "rigid_lift_off_slope_deg": 25.0,
        "compliant_lift_off_slope_deg": 23.0,
        "problem": None,
    } | other


LIMITS = pd.DataFrame(
    [
        limit(0.00, 10.0),
        limit(0.02, 11.0, lifted_unknown_from_deg=11.1, lifted_first_bad_deg=np.nan),
        limit(0.04, 12.0, lifted_good_again="[[20.0, 22.0]]"),
        limit(0.06, 35.0, lifted_first_bad_deg=np.nan),
        limit(0.08, np.nan),
        limit(0.10, np.nan, lifted_unknown_from_deg=2.0, lifted_first_bad_deg=9.0),
        limit(0.12, np.nan, problem="broken", tried_to_deg=np.nan),
        limit(0.14, np.nan, lifted_good_again="[[6.0, 8.0]]"),
    ]
)


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[Figure]:
    """The figures that are laid out from here on."""
    kept: list[Figure] = []
    for module in (maps, curves, chances, shares, fragility):
        monkeypatch.setattr(module, "image", lambda figure, kind: kept.append(figure) or b"")
    return kept


def texts(figure: Figure) -> list[str]:
    return [item.get_text() for item in figure.findobj(lambda item: hasattr(item, "get_text"))]


def at(of: str) -> dict[tuple[int, int], Any]:
    return {(cell.column, cell.row): cell for cell in cells(RUNS, X, Y, of).cells}


def test_a_cell_shows_its_worst_and_counts_the_unknown() -> None:
    seen = at("peak_roll_deg")
    assert (seen[0, 0].stability, seen[0, 0].value, seen[0, 0].unknown) == ("lifted", 5.01, 0)
    assert (seen[0, 1].stability, seen[0, 1].unknown) == ("planted", 1)
    assert words(seen[0, 0], "peak_roll_deg") == "5.1"  # a peak rounds up


def test_missing_and_broken_rows_are_not_known() -> None:
    for of in ("stability", "peak_roll_deg"):
        seen = at(of)
        assert class_of(seen[2, 0], of) is UNKNOWN_FACE  # a problem, though it says `across`
        assert class_of(seen[2, 1], of) is UNKNOWN_FACE  # no row at all


@pytest.mark.parametrize(
    ("place", "fill", "hatch"),
    [
        ((1, 0), FACES["planted"].fill, HATCHES["not_across"]),
        ((1, 1), FACES["overturned"].fill, ""),
    ],
)
def test_a_small_roll_of_a_run_that_did_not_get_there_is_no_good_sign(
    place: tuple[int, int], fill: str, hatch: str
) -> None:
    cell = at("peak_roll_deg")[place]
    drawn = class_of(cell, "peak_roll_deg")
    assert drawn is not None and (drawn.fill, drawn.hatch) == (fill, hatch)
    assert words(cell, "peak_roll_deg") == ""


def test_the_unknown_part_of_a_cell_is_hatched_over_it(drawn: list[Figure]) -> None:
    maps.map_picture({"a": RUNS}, X, Y, "stability", "t")
    patches = [p for p in drawn[0].axes[0].patches if isinstance(p, Rectangle)]
    hatched = sorted(p.get_xy() for p in patches if p.get_hatch() == UNKNOWN_FACE.hatch)
    assert hatched == [(-0.5, 0.5), (1.5, -0.5), (1.5, 0.5)]
    assert UNKNOWN_FACE.words in texts(drawn[0])
    assert any("worst of up to 2 cases" in text for text in texts(drawn[0]))


def test_a_map_of_limits_says_what_each_answer_is(drawn: list[Figure]) -> None:
    maps.map_picture({"": LIMITS}, X, "outfit.rear_ballast_kg", "lifted_good_up_to_deg", "t")
    said = texts(drawn[0])
    assert {"10.0", "11.0 (?)", "12.0 (!)", "35.0 (+)", "none", "<"} <= set(said)
    for answer in ("unproved", "alternates", "open", "none good", "backwards"):
        assert any(text.endswith(ANSWERS[answer]) for text in said)


def test_kinds_of_answers_on_a_curve() -> None:
    found = points(LIMITS, X, LIFT)
    assert [point.answer for point in found] == [
        *("event", "unproved", "alternates", "open", "none good", "unknown", "unknown"),
        "backwards",
    ]
    assert [point.is_threshold for point in found] == [True, True, *[False] * 6]
    assert found[0].value == 10.0  # the highest good one, not the middle of the bracket
    assert found[4].value == found[7].value == 2.0  # the lowest tried, where it is bad already
    assert np.isnan(found[5].value) and np.isnan(found[6].value)


def test_no_line_goes_through_what_is_no_threshold(drawn: list[Figure]) -> None:
    curves.curves_picture({"a": LIMITS}, X, None, FIND, "t")
    pane = drawn[0].axes[2]
    line, *marks = pane.lines
    heights = np.asarray(line.get_ydata(), dtype=float)
    assert list(np.flatnonzero(~np.isnan(heights))) == [0, 1]
    looks = [(mark.get_marker(), mark.get_markerfacecolor() == "white") for mark in marks]
    assert looks == [  # the unknown ones have none
        ("o", False), ("D", True), ("o", True), ("^", True), ("x", False), ("<", False)
    ]  # fmt: skip
    assert sorted(text.get_text() for text in pane.texts) == ["(!)", "?", "?"]
    assert f"(!) {ANSWERS['alternates']}" in texts(drawn[0])


def test_static_and_driven_stand_side_by_side(drawn: list[Figure]) -> None:
    curves.curves_picture({"a": LIMITS}, X, None, FIND, "t")
    titles = [axes.get_title() for axes in drawn[0].axes[:3]]
    assert [title.split(",")[0] for title in titles] == [
        "standing still",
        "standing still",
        "driven",
    ]
    assert len({axes.get_ylim() for axes in drawn[0].axes[:3]}) == 1


def test_what_a_step_buys_is_rounded_down() -> None:
    base, more, none = (points(LIMITS, X, LIFT)[k] for k in (0, 1, 4))
    unit = quantity("lifted_good_up_to_deg")
    finer = curves.bought(base, more.__class__(0.02, 11.09, "event"), unit, 0.2)
    assert finer == "+1.0°"
    assert curves.bought(none, more, unit, 0.2) == "from none to 11.0°"
    assert curves.bought(base, none, unit, 0.2) == "none good"
    assert curves.bought(base, points(LIMITS, X, LIFT)[2], unit, 0.2) == "no threshold"
    nearly = more.__class__(0.02, 10.19, "event")
    assert curves.bought(base, nearly, unit, 0.2) == "no difference found"


@pytest.mark.parametrize("kind", ["png", "svg"])
def test_same_bytes_every_time(kind: Kind) -> None:
    found = [probability([False, True, None], "overturned")]
    index = sensitivity(np.random.default_rng(1).random(4 * 64), ["drive.speed_m_s", "a"])

    def pages() -> list[bytes]:
        return [
            maps.map_picture({"a": RUNS, "b": RUNS}, X, Y, "peak_roll_deg", "t", kind),
            curves.curves_picture({"a": LIMITS}, X, None, FIND, "t", kind),
            chances.chances_picture({"a": found}, "t", kind),
            shares.shares_picture({("a", "overturned"): index}, "t", kind),
        ]

    one = pages()
    assert one == pages()
    assert all(page.startswith(b"\x89PNG" if kind == "png" else b"<?xml") for page in one)


def test_chances_say_counts_and_unknown(drawn: list[Figure]) -> None:
    found = probability([False] * 97 + [True] * 2 + [None], "overturned")
    chances.chances_picture({"a": [found]}, "t")
    assert "2 of 100, 1 not proved: 0.2 % to 8.6 %" in texts(drawn[0])
    [mark] = [line for line in drawn[0].axes[0].lines if line.get_marker() == "s"]
    assert float(np.asarray(mark.get_xdata())[0]) == pytest.approx(3.0)  # the unproved one as bad


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


def test_what_stuck_before_it_could_go_over_proves_nothing_of_going_over(
    drawn: list[Figure],
) -> None:
    table = pd.DataFrame([run(0.0, 8.0, facts, 1.0) for facts in (GOOD, STUCK, OVER, STUCK)])
    found = probability(answers(table, "overturned"), "overturned")
    assert (found.happened, found.unproved, found.most) == (1, 2, 0.75)
    chances.chances_picture({"a": [found]}, "t")
    assert any("1 of 4, 2 not proved" in text for text in texts(drawn[0]))


def test_fragility_is_drawn_with_what_is_not_proved_as_bad(drawn: list[Figure]) -> None:
    """The line is the share that is not proved short of it, and holds down to the value before."""
    shares = [(2.0, 0, 1, 1), (4.0, 2, 0, 1), (6.0, 4, 0, 0)]
    table = pd.DataFrame(
        {
            "slope_deg": [value for value, *_ in shares],
            "event": "lifted",
            "least": [came / 4 for _, came, _, _ in shares],
            "most": [sum(counts) / 4 for _, *counts in shares],
            "low": 0.0,
            "high": 1.0,
        }
    )
    fragility.fragility_picture({"a": table}, ("lifted",), "t")
    [line] = drawn[0].axes[0].lines
    assert np.asarray(line.get_ydata()).tolist() == [50.0, 75.0, 100.0]
    assert line.get_drawstyle() == "steps-pre"
