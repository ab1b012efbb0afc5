"""Pictures of scenarios: true to the ground that the tyres roll on, to scale, the same bytes."""

import re
from math import asin, degrees, hypot, radians, sqrt
from pathlib import Path

import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.text import Text

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.library import shipped
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.picture import course, plan, profile
from sidehill.picture.section import turned
from sidehill.picture.silhouette import silhouette
from sidehill.picture.style import Kind
from sidehill.picture.survey import Survey, survey
from sidehill.picture.view import View
from sidehill.scenario.file import load_scenario

BRAMBLE = load_machine("bramble")
SAMPLED = 2e-5  # [m] a wheel's rest, found on 400 places under it


def seen(scenario: str | Path, *changes: str, **outfit: str) -> Survey:
    return survey(Case(BRAMBLE, load_scenario(scenario, changes), Outfit(**outfit)))


def texts(figure: Figure) -> str:
    """Every word on a page."""
    return "\n".join(item.get_text() for item in figure.findobj(Text))


def titled(figure: Figure, words: str) -> Axes:
    """The panel whose title has these words."""
    return next(axes for axes in figure.axes if words in axes.get_title())


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[Figure]:
    """The pages that were laid out from here on; turning them into bytes is left out."""
    kept: list[Figure] = []
    monkeypatch.setattr(course, "image", lambda figure, kind: kept.append(figure) or b"")
    return kept


def page(drawn: list[Figure], found: Survey) -> Figure:
    course.course_picture(found)
    drawn[-1].draw_without_rendering()  # panels take their final scales
    return drawn[-1]


@pytest.mark.parametrize("name", shipped("scenario"))
def test_every_shipped_scenario_is_drawn(name: str, drawn: list[Figure]) -> None:
    found = seen(name)
    said = texts(page(drawn, found))
    for words in (found.scenario.title, "it does not permit", "from behind, to scale", "CG"):
        assert words in said
    assert ("start" in said.splitlines()) != found.scenario.course.is_tilt_table


@pytest.mark.parametrize("kind", ["png", "svg"])
def test_same_bytes_every_time(kind: Kind, monkeypatch: pytest.MonkeyPatch) -> None:
    found = seen("turn-uphill")
    plain = course.course_picture(found, kind)
    monkeypatch.setitem(__import__("matplotlib").rcParams, "font.size", 20.0)
    assert course.course_picture(found, kind) == plain
    assert plain.startswith(b"\x89PNG" if kind == "png" else b"<?xml")
    assert plain != course.course_picture(seen("turn-uphill", "ground.slope=11 deg"), kind)


def test_a_rigid_wheel_rests_on_a_log_as_two_circles_touch() -> None:
    """Textbook geometry: centres are the sum of the radii apart."""
    found = seen("bank-plain", "feature=[{shape='log', at='5 m', height='60 mm'}]")
    radius, log = BRAMBLE.rear_tyre.radius, 0.06
    for off in (0.0, 0.05, -0.12):
        expected = sqrt((radius + log) ** 2 - off**2)
        assert found.resting(5.0 + off, 0.5) == pytest.approx(expected, abs=SAMPLED)
    assert found.resting(2.0, 0.5) == pytest.approx(radius, abs=1e-12)


def test_a_wheel_does_not_enter_a_hole_shorter_than_its_chord() -> None:
    hole = "{{shape='hole', wheels='uphill', at='5 m', height='150 mm', length='{}', width='1 m'}}"
    narrow, wide = (
        seen("bank-plain", f"feature=[{hole.format(length)}]").resting(5.0, 0.5)
        for length in ("0.2 m", "4 m")
    )
    radius = BRAMBLE.rear_tyre.radius
    assert radius - narrow <= radius - sqrt(radius**2 - 0.1**2)  # no deeper than on its edges
    assert narrow < radius
    assert wide == pytest.approx(radius - 0.15, abs=SAMPLED)


@pytest.mark.parametrize("downhill", ["left", "right"])
def test_features_lie_under_the_outfits_own_wheels(downhill: str) -> None:
    sign = 1.0 if downhill == "right" else -1.0
    plain, wide = (
        seen("bank-stone", f"ground.downhill={downhill}", **outfit)
        for outfit in ({}, {"rear_spacer": "76 mm"})
    )
    # a spacer widens the track by twice its thickness (common practice, no source)
    assert plain.places(0) == pytest.approx((sign * 0.5,))
    assert wide.places(0) == pytest.approx((sign * 0.576,))
    for found in (plain, wide):
        top = found.heights(np.array([5.0, found.sides["uphill"]]))
        assert float(top) == pytest.approx(0.1)
        assert float(found.heights(np.array([5.0, found.sides["downhill"]]))) == 0.0


def test_wheels_in_a_turn_go_on_circles_about_one_centre() -> None:
    """Textbook steering geometry: the rear axle's line goes through the centre of the turn."""
    found = seen("turn-uphill")  # radius 5 m to the left from 4 m on
    centre, along = np.array([4.0, 5.0]), np.array([5.0, 7.5, 10.0])
    wheelbase = BRAMBLE.body.wheelbase
    for left in (0.5, -0.5):
        rear = np.linalg.norm(found.way(along, left) - centre, axis=1)
        front = np.linalg.norm(found.front_way(along, left) - centre, axis=1)
        assert rear == pytest.approx(5.0 - left)
        assert front == pytest.approx(hypot(5.0 - left, wheelbase))


def test_heights_from_above_are_those_that_the_tyres_roll_on(drawn: list[Figure]) -> None:
    found = seen("bank-stone-and-rut")
    figure = page(drawn, found)
    [image] = figure.axes[0].get_images()
    shown = np.asarray(image.get_array())
    assert shown.max() == pytest.approx(60.0, abs=1.0)  # the file's 60 mm, on a 20 mm grid
    assert shown.min() == pytest.approx(-60.0, abs=1.0)
    x0, x1, y0, y1 = image.get_extent()
    row, column = np.unravel_index(shown.argmax(), shown.shape)
    assert x0 + (column + 0.5) * (x1 - x0) / shown.shape[1] == pytest.approx(5.0, abs=0.02)
    middle = y0 + (row + 0.5) * (y1 - y0) / shown.shape[0]
    assert middle == pytest.approx(0.5, abs=0.3)  # its top is flat over 60 % of its width
    assert figure.axes[0].get_aspect() == 1.0


def test_heights_from_the_side_are_drawn_as_many_times_larger_as_is_said(
    drawn: list[Figure],
) -> None:
    for name in ("bank-stone", "bank-rough"):
        figure = page(drawn, seen(name))
        side = titled(figure, "from the side")
        times = int(side.get_title().split("drawn ")[1].split(" times")[0])
        (x0, z0), (x1, z1) = side.transData.transform([(0.0, 0.0), (1.0, 1000.0)])
        assert (z1 - z0) / (x1 - x0) == pytest.approx(times)
        wheel = side.patches[0].get_xy()
        assert np.ptp(wheel[:, 0]) == pytest.approx(0.98, abs=1e-3)
        assert np.ptp(wheel[:, 1]) == pytest.approx(980.0, abs=0.5)


@pytest.mark.parametrize("downhill", ["left", "right"])
def test_the_slope_is_to_scale_and_falls_to_the_downhill_side(
    downhill: str, drawn: list[Figure]
) -> None:
    found = seen("bank-plain", "ground.slope=14 deg", f"ground.downhill={downhill}")
    figure = page(drawn, found)
    behind = titled(figure, "from behind")
    ground = behind.lines[0].get_xydata()
    (x0, z0), (x1, z1) = behind.transData.transform(ground)
    fall = degrees(np.arctan((z0 - z1) / (x1 - x0)))  # to the right on the paper
    assert fall == pytest.approx(14.0 if downhill == "right" else -14.0, abs=0.01)
    assert "14.0 deg (25 %)" in texts(figure)


def test_from_behind_left_is_left() -> None:
    [left] = turned(np.array([[1.0, 0.0]]), 0.0)
    assert tuple(left) == (-1.0, 0.0)
    [up] = turned(np.array([[0.0, 1.0]]), radians(-10.0))  # leaning to the right
    assert degrees(asin(up[0])) == pytest.approx(10.0)


def test_the_outline_from_behind_has_the_machines_own_sizes() -> None:
    fitted = fit(BRAMBLE, Outfit(rear_spacer="76 mm", bucket_height="full"))
    points = np.concatenate([outline.points for outline in silhouette(fitted)])
    tyres = [outline.points for outline in silhouette(fitted)][-2:]
    outside = np.concatenate(tyres)
    assert np.abs(outside[:, 0]).max() == pytest.approx((1.152 + 0.28) / 2.0)
    assert outside[:, 1].min() == pytest.approx(0.0, abs=1e-12)
    assert outside[:, 1].max() == pytest.approx(0.98)
    assert points[:, 1].max() >= 2.3  # roll bar up
    folded = fit(BRAMBLE, Outfit(rops="folded"))
    assert max(outline.points[:, 1].max() for outline in silhouette(folded)) < 2.0
    bare = fit(BRAMBLE.model_copy(update={"loader": None}), Outfit())
    assert len(silhouette(bare)) == len(silhouette(fitted)) - 1


def test_events_are_marked(drawn: list[Figure]) -> None:
    assert "brake: uphill wheel" in texts(page(drawn, seen("one-brake")))
    lowered = "loader.height=[['0 m','full'],['3 m','carry']]"
    assert "bucket down" in texts(page(drawn, seen("bank-plain", lowered)))
    said = texts(page(drawn, seen("raise-on-bank")))
    assert "bucket up" in said and "carry to full from 2 m to 8 m" in said
    assert "roughness\nfades in" in texts(page(drawn, seen("bank-rough")))
    assert "soft, 150 kN/m" in texts(page(drawn, seen("soft-bank")))
    assert "nothing lies under the middle of a rear tyre" in texts(page(drawn, seen("wet-grass")))


def test_downhill_takes_the_grade_in(drawn: list[Figure]) -> None:
    changes = ("ground.slope=10 deg", "ground.grade=18 %")
    said = texts(page(drawn, seen("bank-plain", *changes)))
    steepest = degrees(np.arctan(hypot(np.tan(radians(10.0)), 0.18)))
    assert f"downhill {steepest:.1f} deg" in said
    assert "10.2 deg (18 %) nose up" in said
    assert "level" in texts(page(drawn, seen("bank-plain", "ground.slope=0 deg"))).splitlines()


def test_a_tilt_table_is_not_drawn_as_a_slope_that_is_stood_on(drawn: list[Figure]) -> None:
    figure = page(drawn, seen("tilt-table"))
    behind = titled(figure, "from behind")
    assert np.ptp(behind.lines[0].get_ydata()) == 0.0  # the machine stands level
    assert "turned slowly, from level up to 50.0 deg (119 %)" in texts(figure)
    assert not any("from the side" in axes.get_title() for axes in figure.axes)


def test_a_files_own_words_are_no_formulas(drawn: list[Figure]) -> None:
    found = seen("bank-plain", "title=Bank $x^{ and $", r"teaches=costs \$5 or $\frac{$")
    assert "Bank $x^{ and $" in texts(page(drawn, found))  # a formula that bad would raise


def test_many_features_are_counted_not_crowded(drawn: list[Figure]) -> None:
    logs = ", ".join(
        f"{{shape='log', at='{3.0 + 0.3 * k:.1f} m', height='30 mm'}}" for k in range(15)
    )
    said = texts(page(drawn, seen("bank-plain", f"feature=[{logs}]"))).splitlines()
    assert "15" in said  # the last one's number on the plan
    assert any(line.endswith("and 7 more") for line in said)


def test_sides_and_holes_differ_without_colour(drawn: list[Figure]) -> None:
    assert len(set(plan.HATCHES.values())) == len(plan.SIDE_COLOURS) == 2
    assert len({str(dashes) for _, dashes, _ in profile.LINES.values()}) == 2
    figure = page(drawn, seen("bank-stone-and-rut"))
    outlines = [p for p in figure.axes[0].patches if not p.get_fill()]
    assert [p.get_linestyle() for p in outlines] == ["-", "--"]


def test_a_view_keeps_its_middle_and_all_that_was_seen() -> None:
    tall = View((0.0, 10.0), (-1.0, 1.0)).stretched(0.5)
    assert (tall.x, tall.y) == ((0.0, 10.0), (-2.5, 2.5))
    wide = View((0.0, 1.0), (0.0, 10.0)).stretched(0.5)
    assert (wide.x, wide.y) == ((-9.5, 10.5), (0.0, 10.0))


def test_us_units_come_first_where_asked(drawn: list[Figure]) -> None:
    course.course_picture(seen("bank-stone"), us=True)
    assert "3.9 in (100 mm) high" in texts(drawn[-1])


def test_what_cannot_be_driven_is_not_drawn() -> None:
    with pytest.raises(InputError, match=r"course.radius = 1.20 m.*steers to 45 deg"):
        seen("turn-uphill", "course.radius=1.2 m", "course.length=7.5 m")


@pytest.mark.parametrize(("slope", "percent"), [(5.0, 9), (10.0, 18), (14.0, 25), (23.9, 44)])
def test_one_picture_shows_one_figure_for_the_given_slope(
    drawn: list[Figure], slope: float, percent: int
) -> None:
    """To the nearest percent wherever it stands: tan(10 deg) is 17.6 %."""
    said = texts(page(drawn, seen("bank-stone", f"ground.slope={slope} deg")))
    said = re.findall(rf"\b{slope:.1f} deg \((\d+) %\)", said)
    assert len(said) > 1
    assert set(said) == {str(percent)}
