"""The slope in cross section, to scale, with the machine on it as seen from behind."""

from math import cos, sin

import numpy as np
from matplotlib.axes import Axes

from sidehill.files.units import show_slope
from sidehill.kernels.layout import Vector
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PALE_PLUM, PLUM
from sidehill.picture.silhouette import silhouette
from sidehill.picture.survey import Survey

HALF, MOST_HALF = 1.7, 4.0  # [m] of ground to each side, least and most
BESIDE = 0.25  # [m] of ground beyond a feature
MOST_SECTIONS = 12  # of the ground ahead


def draw_section(axes: Axes, survey: Survey) -> None:
    """Ground, what lies ahead, and the machine; its right is right on the paper."""
    ground, half = survey.scenario.ground, half_width(survey)
    turn = 0.0 if survey.scenario.course.is_tilt_table else -ground.uphill * ground.slope
    axes.set_aspect("equal", adjustable="datalim")
    axes.set_title("from behind, to scale")
    axes.set_axis_off()
    across = np.linspace(-half, half, 400)
    for heights in ahead(survey, across):
        surface = turned(np.column_stack([across, heights]), turn)
        plane = turned(np.column_stack([across, np.zeros_like(across)]), turn)
        axes.fill(
            *np.concatenate([surface, plane[::-1]]).T,
            facecolor=PALE_PLUM, alpha=0.5, edgecolor="none", zorder=1,
        )  # fmt: skip
        axes.plot(*surface.T, color=PLUM, lw=0.8, zorder=1)
    axes.plot(*turned(np.array([[-half, 0.0], [half, 0.0]]), turn).T, color=DARK_GREY, lw=2.0)
    for outline in silhouette(survey.fitted):
        axes.fill(
            *turned(outline.points, turn).T, facecolor=outline.face, edgecolor=outline.edge,
            lw=0.6, zorder=3,
        )  # fmt: skip
    _write_slope(axes, survey, half)
    _mark_cg(axes, survey, turn)


def half_width(survey: Survey) -> float:
    """[m] of ground to each side: as far as the features reach, within reason."""
    reaches = [
        abs(left) + feature.width / 2.0 + BESIDE
        for number, feature in enumerate(survey.scenario.feature)
        if feature.width is not None
        for left in survey.places(number)
    ]
    return min(max(HALF, *reaches, HALF), MOST_HALF)


def ahead(survey: Survey, across: Vector) -> list[Vector]:
    """Heights (n,) [m] over offsets to the left (n,) [m]: of the ground at each feature.

    Rough ground without features is cut at the middle of the course.
    """
    places = [feature.at for feature in survey.scenario.feature][:MOST_SECTIONS]
    if not places and survey.ground.relief.size:
        places = [survey.length / 2.0]
    return [
        survey.heights(np.concatenate([survey.way(np.array([at]), left) for left in across]))
        for at in places
    ]


def turned(points: Vector, turn: float) -> Vector:
    """(n, 2) on paper of points (n, 2) [m] to the left and up, turned anticlockwise [rad]."""
    right, up = -points[:, 0], points[:, 1]
    return np.column_stack(
        [right * cos(turn) - up * sin(turn), right * sin(turn) + up * cos(turn)]
    )  # fmt: skip


def _write_slope(axes: Axes, survey: Survey, half: float) -> None:
    """The angle between the ground and a level line at its lower end."""
    ground = survey.scenario.ground
    is_table = survey.scenario.course.is_tilt_table
    turn = 0.0 if is_table else -ground.uphill * ground.slope
    foot = turned(np.array([[-ground.uphill * half, 0.0]]), turn)[0]
    inward = -np.sign(foot[0])
    axes.plot([foot[0], foot[0] + inward * 1.5 * half], [foot[1]] * 2, color=GREY, lw=0.8, ls=":")
    arc = np.linspace(0.0, ground.slope, 30)
    radius = 0.5 * half
    axes.plot(
        foot[0] + inward * radius * np.cos(arc), foot[1] + radius * np.sin(arc), color=GREY, lw=0.8
    )
    words, middle = show_slope(ground.slope), foot[0] + inward * 0.75 * half
    if is_table:
        raised = np.array([inward * np.cos(ground.slope), np.sin(ground.slope)])
        axes.plot(*np.array([foot, foot + 1.5 * half * raised]).T, color=GREY, lw=1.2, ls="--")
        words, middle = f"turned slowly, from level up to {words}", 0.0
    axes.text(
        middle, foot[1] - 0.08, words, ha="center", va="top", fontweight="bold"
    )  # fmt: skip


def _mark_cg(axes: Axes, survey: Survey, turn: float) -> None:
    """Where the centre of gravity of everything on the wheels is."""
    _, y, z = survey.fitted.cg
    at = turned(np.array([[y, z]]), turn)[0]
    axes.plot(*at, "o", ms=7, mfc="white", mec=DARK_PLUM, mew=1.4, zorder=5)
    axes.plot(*at, "+", ms=7, color=DARK_PLUM, zorder=5)
    axes.annotate(
        "CG", at, xytext=(7, 3), textcoords="offset points", fontsize=7.5, fontweight="bold",
        color=DARK_PLUM, zorder=5,
    )  # fmt: skip
