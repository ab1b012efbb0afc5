"""A course from above: heights, the wheels' way, features, and where downhill is."""

from math import atan, cos, hypot, sin, tan

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.image import AxesImage
from matplotlib.patches import Polygon

from sidehill.files.units import show_slope
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PLUM
from sidehill.picture.marks import badge, beside, draw_marks, pair
from sidehill.picture.survey import Survey
from sidehill.picture.view import View
from sidehill.terrain.build import ACROSS
from sidehill.terrain.course import path_point

SHADES = LinearSegmentedColormap.from_list("heights", [DARK_GREY, "white", PLUM])
MOST_POINTS = 90_000  # of the height grid
FINEST = 0.02  # [m] of it
CONTOURS = (5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)  # [mm] steps to choose from
MOST_CONTOURS = 5  # above the plane, or below it
SIDE_COLOURS = {"uphill": PLUM, "downhill": GREY}
HATCHES = {"uphill": "", "downhill": "////"}  # apart in grey as well
ARROW, INSET = 0.045, 0.018  # of the view's width: the downhill arrow, and around it


def draw_plan(axes: Axes, survey: Survey, view: View) -> tuple[AxesImage, float] | None:
    """Everything from above; the height image and the step [mm] of its contours, if any."""
    axes.set(xlim=view.x, ylim=view.y, aspect="equal", xlabel="x [m]", ylabel="y [m]")
    axes.grid(visible=False)
    shades = _draw_heights(axes, survey, view)
    if not survey.scenario.course.is_tilt_table:
        _draw_ways(axes, survey)
    _draw_features(axes, survey)
    draw_marks(axes, survey)
    _draw_downhill(axes, survey, view)
    return shades


def _draw_heights(axes: Axes, survey: Survey, view: View) -> tuple[AxesImage, float] | None:
    """Shades and contours, dashed below the plane; nothing where the ground is a plane."""
    if not survey.scenario.feature and not survey.ground.relief.size:
        return None
    fine = max(FINEST, float(np.sqrt(np.prod(view.size) / MOST_POINTS)))
    x, y = np.arange(*view.x, fine), np.arange(*view.y, fine)
    heights = 1000.0 * survey.heights(np.stack(np.meshgrid(x, y), axis=-1))
    most = max(float(np.abs(heights).max()), CONTOURS[0])  # [mm], as all below
    image = axes.imshow(
        heights, cmap=SHADES, vmin=-most, vmax=most, origin="lower", aspect="equal", alpha=0.75,
        extent=(x[0] - fine / 2, x[-1] + fine / 2, y[0] - fine / 2, y[-1] + fine / 2), zorder=0,
        interpolation="bilinear",
    )  # fmt: skip
    step = next((s for s in CONTOURS if most / s <= MOST_CONTOURS), CONTOURS[-1])
    levels = step * (np.arange(-MOST_CONTOURS, MOST_CONTOURS) + 0.5)
    levels = levels[(levels > heights.min()) & (levels < heights.max())]
    if levels.size:
        axes.contour(x, y, heights, levels=levels, colors=DARK_GREY, linewidths=0.5, zorder=1)
    axes.set(xlim=view.x, ylim=view.y)
    return image, step


def _draw_ways(axes: Axes, survey: Survey) -> None:
    """The path of the rear axle centre, the rear tyres' bands, the front tyres' middles."""
    stations, fitted = survey.stations, survey.fitted
    half = fitted.machine.rear_tyre.width / 2.0
    for side, left in survey.sides.items():
        edges = [survey.way(stations, left + edge) for edge in (-half, half)]
        band = np.concatenate([edges[0], edges[1][::-1]])
        axes.fill(
            *band.T, facecolor=SIDE_COLOURS[side], edgecolor=SIDE_COLOURS[side], alpha=0.2, lw=0,
            zorder=2, hatch=HATCHES[side], label=f"{side} rear tyre's way",
        )  # fmt: skip
        for edge in edges:
            axes.plot(*edge.T, color=SIDE_COLOURS[side], lw=0.8, zorder=2)
    for sign in (-1.0, 1.0):
        front = survey.front_way(stations, sign * fitted.front_track / 2.0)
        axes.plot(
            *front.T, color=DARK_GREY, lw=0.8, ls=(0, (1, 1.6)), zorder=3,
            label="middle of a front tyre" if sign > 0.0 else None,
        )  # fmt: skip
    axes.plot(
        *survey.way(stations, 0.0).T, color=DARK_GREY, lw=0.9, ls="-.", zorder=3,
        label="path of the rear axle's centre",
    )  # fmt: skip


def _draw_features(axes: Axes, survey: Survey) -> None:
    """Outline and number of every feature; what sinks into the ground is dashed."""
    for number, feature in enumerate(survey.scenario.feature):
        half = (ACROSS if feature.width is None else feature.width) / 2.0
        for left in survey.places(number):
            x, y, heading = path_point(survey.scenario, feature.at, left)
            middle = np.array([x, y])
            ahead = np.array([cos(heading), sin(heading)])
            across = np.array([-ahead[1], ahead[0]])
            corners = [
                middle + u * ahead * feature.extent / 2.0 + v * across * half
                for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
            ]
            axes.add_patch(
                Polygon(
                    corners, fill=False, edgecolor=DARK_PLUM, lw=0.9, zorder=4,
                    ls="--" if feature.kind.sinks else "-",
                )
            )  # fmt: skip
            right_across = feature.width is None
            side = survey.scenario.ground.uphill if left == 0.0 else np.sign(left)
            edge = middle + side * across * (beside(survey) if right_across else half)
            badge(axes, str(number + 1), edge, side * across)


def _draw_downhill(axes: Axes, survey: Survey, view: View) -> None:
    """The way the whole plane falls, and how steeply, in a corner."""
    ground = survey.scenario.ground
    fall = np.array([-tan(ground.grade), -ground.uphill * tan(ground.slope)])
    steep = hypot(*fall)
    if steep == 0.0:
        axes.text(0.012, 0.96, "level", transform=axes.transAxes, va="top", fontweight="bold")
        return
    toward = fall / steep
    arrow, inset = ARROW * view.size[0], INSET * view.size[0]
    middle = np.array([view.x[0], view.y[1]]) + (inset + arrow / 2.0) * np.array([1.0, -1.0])
    head, tail = middle + toward * arrow / 2.0, middle - toward * arrow / 2.0
    axes.annotate(
        "", pair(head), xytext=pair(tail), zorder=7,
        arrowprops={"arrowstyle": "-|>", "lw": 2.4, "color": DARK_GREY, "mutation_scale": 16},
    )  # fmt: skip
    is_table = survey.scenario.course.is_tilt_table
    words = f"{'turned this way, up to' if is_table else 'downhill'} {show_slope(atan(steep))}"
    axes.text(
        middle[0] + arrow * abs(toward[0]) / 2.0 + inset, middle[1], words,
        va="center", fontsize=8.0, fontweight="bold", zorder=7,
    )  # fmt: skip
