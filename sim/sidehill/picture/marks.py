"""What happens where on a course, from above: start, end, brake, bucket; and the machine."""

from itertools import pairwise
from math import atan2, degrees

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Polygon

from sidehill.kernels.layout import Vector
from sidehill.machine.loader import pin_height
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, PALE_PLUM
from sidehill.picture.survey import Survey

BADGE = {"boxstyle": "circle,pad=0.22", "facecolor": "white", "edgecolor": DARK_GREY, "lw": 0.8}
PLATE = {"facecolor": "white", "edgecolor": "none", "pad": 0.8, "alpha": 0.85}
OVERHANG = 0.12  # [m] of a bar across the path, beyond the tyres


def pair(point: Vector) -> tuple[float, float]:
    """A place (2,) as matplotlib takes it."""
    return float(point[0]), float(point[1])


def badge(axes: Axes, text: str, at: Vector, outward: Vector) -> None:
    """A number in a circle, 10 points outward (2,) of a place (2,) [m]."""
    axes.annotate(
        text, pair(at), xytext=pair(10.0 * outward), textcoords="offset points", fontsize=7.0,
        ha="center", va="center", bbox=BADGE, zorder=8, annotation_clip=True,
    )  # fmt: skip


def beside(survey: Survey) -> float:
    """[m] from the path to just beside the rear tyres."""
    return survey.fitted.rear_track / 2.0 + survey.fitted.machine.rear_tyre.width / 2.0 + OVERHANG


def draw_marks(axes: Axes, survey: Survey) -> None:
    """The machine at the start, the end, the brake point, and where the bucket moves."""
    scenario = survey.scenario
    up = scenario.ground.uphill * beside(survey)
    _draw_machine(axes, survey)
    if not scenario.course.is_tilt_table:
        for along, words in ((0.0, "start"), (survey.length, "end")):
            _bar(axes, survey, along, (up, -up), words)
    brake = scenario.drive.brake
    if brake is not None:
        reach = {"both": (up, -up), "uphill": (0.0, up), "downhill": (0.0, -up)}[brake.wheels]
        what = "wheels" if brake.wheels == "both" else "wheel"
        _bar(axes, survey, brake.at, reach, f"brake: {brake.wheels} {what}", thick=3.0)
    _draw_lift(axes, survey)


def _draw_machine(axes: Axes, survey: Survey) -> None:
    """Tyres at the start, as seen from above."""
    fitted = survey.fitted
    machine = fitted.machine
    for x, tyre, track in (
        (0.0, machine.rear_tyre, fitted.rear_track),
        (machine.body.wheelbase, machine.front_tyre, fitted.front_track),
    ):
        for y in (-track / 2.0, track / 2.0):
            corner = np.array([tyre.radius, tyre.width / 2.0])
            corners = [(x, y) + corner * signs for signs in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
            axes.add_patch(Polygon(corners, facecolor=DARK_GREY, edgecolor="white", zorder=5))
        axes.plot([x, x], [-track / 2.0, track / 2.0], color=DARK_GREY, lw=2.0, zorder=5)
    axes.plot([0.0, machine.body.wheelbase], [0.0, 0.0], color=DARK_GREY, lw=2.0, zorder=5)


def _bar(
    axes: Axes, survey: Survey, along: float, reach: tuple[float, float], words: str,
    thick: float = 1.6,
) -> None:  # fmt: skip
    """A bar across the path between two offsets to the left [m], named at the second."""
    near, far = (survey.way(np.array([along]), left)[0] for left in reach)
    axes.plot(*np.array([near, far]).T, color=DARK_PLUM, lw=thick, zorder=6, solid_capstyle="butt")
    outward = (far - near) / np.linalg.norm(far - near)
    axes.annotate(
        words, pair(far), xytext=pair(9.0 * outward), textcoords="offset points", fontsize=7.5,
        color=DARK_PLUM, ha="center", va="center", bbox=PLATE, zorder=8, annotation_clip=True,
    )  # fmt: skip


def _draw_lift(axes: Axes, survey: Survey) -> None:
    """Where the bucket goes up or down."""
    schedule, loader = survey.scenario.loader, survey.fitted.machine.loader
    if schedule is None or loader is None:
        return
    places = [(at, pin_height(loader, height)) for at, height in schedule.height]
    for (start, low), (end, high) in pairwise(places):
        if low == high:
            continue
        way = survey.way(np.linspace(start, end, 50), 0.0)
        axes.plot(*way.T, color=PALE_PLUM, lw=7.0, zorder=3, solid_capstyle="butt")
        dx, dy = way[26] - way[24]
        axes.text(
            *pair(way[25]), f"bucket {'up' if high > low else 'down'}", fontsize=7.0, zorder=8,
            ha="center", va="center", rotation=degrees(atan2(dy, dx)), bbox=PLATE,
        )  # fmt: skip
