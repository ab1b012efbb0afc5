"""The ground along the rear wheels' ways from the side, heights exaggerated, with a wheel on it."""

from itertools import pairwise
from math import floor

import numpy as np
from matplotlib.axes import Axes

from sidehill.kernels.layout import Vector
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PALE_GREY, PALE_PLUM, PLUM
from sidehill.picture.survey import Survey
from sidehill.terrain.roughness import FADE

LINES = {"uphill": (PLUM, "-", 1.6), "downhill": (GREY, (0, (4, 1.5)), 1.6)}
AROUND = 0.6  # [m] beyond start and end
HIGHEST = 0.42  # of the panel's height, for the ground
WHEEL = 0.42  # of it, for the wheel's radius
MOST = 50  # times that heights are exaggerated
FINE = 0.01  # [m] along the path
FEWEST = 400  # points of a line


def exaggeration(survey: Survey, most: float, size: tuple[float, float]) -> int:
    """Times that heights are drawn larger than lengths.

    Args:
        most: [m] largest height or depth of the ground.
        size: [in] width and height of the panel.
    """
    wide, high = size
    inch = wide / (survey.length + 2.0 * AROUND)  # of a metre along the path
    radius = survey.fitted.machine.rear_tyre.radius
    room = min(HIGHEST * high / max(most, 1e-3), WHEEL * high / radius) / inch
    return max(1, min(MOST, floor(room)))


def draw_profile(axes: Axes, survey: Survey, size: tuple[float, float]) -> None:
    """Heights off the plane under both rear wheels over path length."""
    low, high = -AROUND, survey.length + AROUND
    along = np.linspace(low, high, max(FEWEST, round((high - low) / FINE)))
    heights = {side: survey.heights(survey.way(along, left)) for side, left in survey.sides.items()}
    most = max(float(np.abs(values).max()) for values in heights.values())
    times = exaggeration(survey, most, size)
    tall = size[1] * (high - low) / size[0] / times  # [m] of the panel's height
    deep = min(float(values.min()) for values in heights.values())
    bottom = min(deep, 0.0) - 0.12 * tall
    axes.set(
        xlim=(low, high), ylim=(1000.0 * bottom, 1000.0 * (bottom + tall)),
        xlabel="path length [m]", ylabel="off the plane [mm]",
    )  # fmt: skip
    axes.set_title(
        f"from the side, heights drawn {times} times larger than lengths"
        if times > 1
        else "from the side, to scale"
    )
    for side, values in heights.items():
        colour, dashes, width = LINES[side]
        axes.plot(
            along, 1000.0 * values, color=colour, ls=dashes, lw=width,
            label=f"under the {side} rear wheel", zorder=4,
        )  # fmt: skip
    if most == 0.0:
        axes.text(
            0.5, 0.5, "nothing lies under the middle of a rear tyre",
            transform=axes.transAxes, ha="center", color=DARK_GREY, bbox={"fc": "white", "lw": 0},
        )  # fmt: skip
    _draw_wheel(axes, survey, along, heights)
    _draw_events(axes, survey)
    axes.legend(loc="upper center", ncols=2, bbox_to_anchor=(0.5, -0.19))


def _draw_wheel(axes: Axes, survey: Survey, along: Vector, heights: dict[str, Vector]) -> None:
    """A rigid rear wheel resting where the ground is furthest off the plane."""
    side = max(heights, key=lambda name: float(np.abs(heights[name]).max()))
    far = np.abs(heights[side])
    at = float(along[far.argmax()]) if far.max() > 0.0 else 0.0
    radius = survey.fitted.machine.rear_tyre.radius
    centre = survey.resting(at, survey.sides[side])
    turn = np.linspace(0.0, 2.0 * np.pi, 181)
    x, z = at + radius * np.sin(turn), centre + radius * np.cos(turn)
    axes.fill(x, 1000.0 * z, facecolor=PALE_GREY, edgecolor=DARK_GREY, lw=1.2, alpha=0.7, zorder=2)
    axes.plot([at], [1000.0 * centre], "+", color=DARK_GREY, ms=8, zorder=3)
    is_early = at < survey.length / 2.0
    axes.annotate(
        f"{side} rear wheel,\nsame scales", (at + radius * (1.0 if is_early else -1.0), 0.0),
        xycoords=("data", "axes fraction"), xytext=(5 if is_early else -5, 150), zorder=5,
        textcoords="offset points", fontsize=7.0, ha="left" if is_early else "right", va="top",
    )  # fmt: skip


def _draw_events(axes: Axes, survey: Survey) -> None:
    """Start, end, brake, bucket and the beginning of roughness."""
    scenario = survey.scenario
    marks = {"start": 0.0, "end": survey.length}
    if scenario.drive.brake is not None:
        marks["brake"] = scenario.drive.brake.at
    for words, at in marks.items():
        axes.axvline(at, color=DARK_PLUM, lw=1.0, ls=":", zorder=1)
        _say(axes, at, words)
    if scenario.loader is not None:
        for (start, low), (end, high) in pairwise(scenario.loader.height):
            if low != high:
                axes.axvspan(start, end, color=PALE_PLUM, alpha=0.45, lw=0, zorder=0)
                _say(axes, (start + end) / 2.0, "bucket moves")
    if scenario.ground.roughness > 0.0:
        axes.axvspan(*FADE, facecolor="none", edgecolor=PALE_GREY, hatch="////", lw=0, zorder=0)
        _say(axes, sum(FADE) / 2.0, "roughness\nfades in")


def _say(axes: Axes, at: float, words: str) -> None:
    """Small words at the foot of the panel."""
    axes.text(
        at, 0.02, words, transform=axes.get_xaxis_transform(), ha="center", va="bottom",
        fontsize=7.0, color=DARK_PLUM, zorder=6, bbox={"facecolor": "white", "lw": 0, "pad": 0.6},
    )  # fmt: skip
