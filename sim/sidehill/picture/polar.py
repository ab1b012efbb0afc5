"""The lift-off slope for ground that falls away in any direction, as a picture."""

from itertools import pairwise

import numpy as np
from matplotlib.figure import Figure
from matplotlib.projections.polar import PolarAxes
from numpy.typing import NDArray

from sidehill.machine.fitted import Fitted
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PLUM
from sidehill.picture.style import footnote, look, png
from sidehill.statics.assembly import from_fitted
from sidehill.statics.flaw import flaws
from sidehill.statics.polar import LIFTS, round_slope
from sidehill.statics.vector import Array

_LINES = (  # in the order of LIFTS
    (DARK_PLUM, (0, (3, 1))),
    (DARK_GREY, (0, (3, 1))),
    (PLUM, "-"),
    (GREY, "-"),
    (DARK_PLUM, (0, (1, 1.2))),
    (DARK_GREY, (0, (1, 1.2))),
)
_AHEAD = {
    0: "nose downhill",
    90: "left side\ndownhill",
    180: "nose uphill",
    270: "right side\ndownhill",
}


def polar_picture(fitted: Fitted) -> bytes:
    """PNG: lift-off slope over the direction in which the ground falls away, rigid tyres."""
    direction = np.radians(np.arange(0.0, 360.5, 0.5))
    tipping = from_fitted(fitted)
    found = round_slope(tipping, direction)
    with look():
        figure = Figure(figsize=(7.0, 7.4))
        figure.suptitle(f"{fitted.machine.name}: lift-off all round", fontweight="bold", y=0.975)
        reasons = [reason for reason, holds in flaws(tipping).items() if holds]
        if reasons:
            words = "\n".join(["not computed: it does not stand on the level", *reasons])
            figure.text(0.5, 0.5, words, ha="center", va="center", wrap=True)
        else:
            axes = figure.add_axes((0.14, 0.17, 0.72, 0.70), projection="polar")
            assert isinstance(axes, PolarAxes)
            _draw(axes, direction, np.degrees(found.slope), found.lifts)
            figure.legend(loc="lower center", ncols=2, bbox_to_anchor=(0.5, 0.035))
        footnote(
            figure,
            "Slope at which the first wheel lifts. Rigid tyres, standing still: overstates. "
            "Direction is where the ground falls away to. A model compares; it does not permit.",
        )
        return png(figure)


def _draw(axes: PolarAxes, direction: Array, slope: Array, lifts: NDArray[np.intp]) -> None:
    """One stretch of line for each wheel, or pair, that lifts first."""
    axes.set_theta_zero_location("N")
    axes.set_thetagrids(list(_AHEAD), list(_AHEAD.values()))
    ends = [0, *(np.flatnonzero(np.diff(lifts)) + 1), len(lifts)]
    named: set[int] = set()
    for start, end in pairwise(ends):
        what = int(lifts[start])
        colour, dashes = _LINES[what]
        label = None if what in named else _label(LIFTS[what])
        stretch = slice(start, min(end + 1, len(lifts)))
        axes.plot(
            direction[stretch], slope[stretch], color=colour, linestyle=dashes, lw=2.2, label=label
        )
        named.add(what)
    top = 10.0 * np.ceil(np.nanmax(slope) / 10.0)
    rings = np.arange(10.0, top + 1.0, 10.0)
    axes.set_ylim(0.0, top)
    axes.set_yticks(
        rings, [f"{ring:.0f}° ({100 * np.tan(np.radians(ring)):.0f} %)" for ring in rings]
    )
    axes.set_rlabel_position(62.0)
    axes.tick_params(axis="x", pad=14.0)
    axes.tick_params(axis="y", labelsize=7.0, labelcolor=GREY)
    for text in axes.yaxis.get_ticklabels():
        text.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 0.6, "alpha": 0.85})
    _mark_sides(axes, direction, slope)


def _label(name: str) -> str:
    """Which wheel lifts first, for the legend."""
    end = name.removeprefix("both ")
    return f"both {end} wheels lift first" if end != name else f"{name} wheel lifts first"


def _mark_sides(axes: PolarAxes, direction: Array, slope: Array) -> None:
    """The value straight to each side, rounded down."""
    for side in _AHEAD:
        value = slope[int(np.argmin(np.abs(np.degrees(direction) - side)))]
        if np.isnan(value):
            continue
        axes.plot([np.radians(side)], [value], "o", color=DARK_GREY, ms=4)
        shown = np.floor(10.0 * value) / 10.0
        axes.annotate(
            f"{shown:.1f}°", (np.radians(side), value), textcoords="offset points", xytext=(6, 6)
        )
