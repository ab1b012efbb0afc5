"""Critical values over what varies: standing still and driven side by side, one row an option."""

from collections.abc import Sequence
from math import ceil, isnan, radians, tan
from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.textpath import TextPath

from sidehill.caution import IN_SHORT
from sidehill.files.units import round_to
from sidehill.picture.cells import levels
from sidehill.picture.colours import DARK_GREY, GREY
from sidehill.picture.curve import Point, Side, corners, points, sides
from sidehill.picture.quantity import Quantity, quantity, quantity_of
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.strip.quantity import Varied
from sidehill.study.plan import Find
from sidehill.sweep.limits import ANSWERS

INKS = LinearSegmentedColormap.from_list("lines", ["#b593ad", "#84517a", "#2f0f29"])
DASHES: Sequence[Any] = ("-", (0, (5, 1.6)), (0, (1, 1.2)), (0, (7, 1.5, 1, 1.5)))
_MARKS = {  # answer -> (marker, is filled)
    "event": ("o", True),
    "unproved": ("D", False),
    "alternates": ("o", False),
    "open": ("^", False),
    "none good": ("x", True),
    "backwards": ("<", True),
}
_PANE = (2.75, 2.75)  # [in]
_FOOT = 0.85  # [in] for the legend
_MOST_TICKS = 8
Lines = dict[Any, list[Point]]


def curves_picture(
    panes: dict[str, pd.DataFrame],
    x: str,
    by: str | None,
    find: Find,
    title: str,
    kind: Kind = "png",
) -> bytes:
    """Rows of panes by name; a line a level of `by` over the levels of `x`.

    Args:
        find: of what the limits are, and short of which events.
    """
    varied = find.varied
    asked = sides(next(iter(panes.values())), find.until, varied)
    every = pd.concat(panes.values())
    shown = quantity_of(every[x])
    with look():
        size = (_PANE[0] * len(asked) + 0.6, _PANE[1] * len(panes) + 0.7 + _FOOT)
        figure = Figure(figsize=size)
        spread = figure.subplots(len(panes), len(asked), squeeze=False, sharex=True, sharey=True)
        _scale(spread, every, asked, varied)
        seen: set[str] = set()
        for row, (name, table) in zip(spread, panes.items(), strict=True):
            for axes, side in zip(row, asked, strict=True):
                lines = _lines(table, x, by, side)
                seen |= {point.answer for line in lines.values() for point in line}
                unit = quantity(side.column)
                _draw(axes, lines, unit, shown)
                if by is not None:
                    least = 0.0 if side.event is None else 2.0 * _tolerance(find)
                    _say_gains(axes, lines, unit, shown, quantity(by), least)
                axes.set_title(side.words if axes in spread[0] else "", fontsize=8.5)
                axes.set_xlabel(shown.label if axes in spread[-1] else "")
            row[0].set_ylabel(
                f"{name}\n\n{varied.words} [{quantity(side.column).unit}]", parse_math=False
            )
        spread[0, 0].set_xticks(*_x_ticks(levels(every[x]), shown))
        figure.suptitle(title, fontweight="bold", parse_math=False)
        figure.tight_layout(rect=(0.0, _FOOT / size[1], 1.0, 1.0))
        _name(figure, every, by, seen)
        footnote(
            figure,
            "Good: all that was tried up to there met everything, got to an end, and did not come "
            f"to the event. {IN_SHORT}",
        )
        return image(figure, kind)


def _lines(table: pd.DataFrame, x: str, by: str | None, side: Side) -> Lines:
    if by is None:
        return {None: points(table, x, side)}
    return {level: points(table[table[by] == level], x, side) for level in levels(table[by])}


def _draw(axes: Axes, lines: Lines, unit: Quantity, shown: Quantity) -> None:
    for k, found in enumerate(lines.values()):
        ink, dashes = look_of(k, len(lines))
        places = [_place(point.x, shown, j) for j, point in enumerate(found)]
        heights = [point.value if point.is_threshold else float("nan") for point in found]
        axes.plot(places, unit.shown(heights), color=ink, ls=dashes, lw=1.7, zorder=2)
        for place, point in zip(places, found, strict=True):
            _mark(axes, place, point, unit, ink)


def _x_ticks(found: Sequence[Any], shown: Quantity) -> tuple[list[float], list[str]]:
    """At the levels themselves, or at some of them."""
    every = ceil(len(found) / _MOST_TICKS)
    places = [_place(level, shown, k) for k, level in enumerate(found)]
    return places[::every], [shown.tick(level, "\n") for level in found][::every]


def look_of(k: int, of: int) -> tuple[Any, Any]:
    return INKS(k / (of - 1) if of > 1 else 1.0), DASHES[k % len(DASHES)]


def _place(level: Any, shown: Quantity, k: int) -> float:
    return float(k) if isinstance(level, str) else float(shown.shown(level))


def _mark(axes: Axes, place: float, point: Point, unit: Quantity, ink: Any) -> None:
    if point.answer == "unknown":
        # at the foot, whatever the scale is: not computed is no slope
        axes.text(
            place, 0.02, "?", transform=axes.get_xaxis_transform(), ha="center", color=ink,
            fontweight="bold",
        )  # fmt: skip
        return
    marker, is_filled = _MARKS[point.answer]
    height = float(unit.shown(point.value))
    axes.plot(
        place, height, marker=marker, ms=5.0, mec=ink, mfc=ink if is_filled else "white", ls="",
        mew=1.2, zorder=3, clip_on=False,
    )  # fmt: skip
    if point.answer == "alternates":
        axes.annotate(
            "(!)", (place, height), textcoords="offset points", xytext=(4, -9), fontsize=6.5
        )


def _tolerance(find: Find) -> float:
    """Of the limits, in their columns' unit."""
    asked = find.si("tolerance")
    return find.varied.from_si(find.varied.tolerance if asked is None else asked)


def _say_gains(
    axes: Axes, lines: Lines, unit: Quantity, shown: Quantity, by: Quantity, least: float
) -> None:
    """What a middle step of either, and both, buy: in the corner that is free."""
    if len(lines) < 2 or any(len(found) < 2 for found in lines.values()):
        return
    base, *others = corners(lines)
    second = list(lines)[len(lines) // 2]
    steps = (_said(others[0].x, shown), _said(second, by), "both")
    said = [
        f"{step}: {bought(base, one, unit, least)}" for step, one in zip(steps, others, strict=True)
    ]
    heights = [float(unit.shown(one.value)) for found in lines.values() for one in found]
    is_low = min(heights, default=0.0) < 0.3 * axes.get_ylim()[1]
    axes.text(
        0.98, 0.98 if is_low else 0.02, "\n".join(said), transform=axes.transAxes, ha="right",
        va="top" if is_low else "bottom", fontsize=7.0, color=DARK_GREY, zorder=4,
    )  # fmt: skip


def bought(base: Point, other: Point, unit: Quantity, least: float) -> str:
    """How much further one goes than another, rounded down; what it is where that means nothing.

    least: [column's unit] a smaller difference is none.
    """
    if other.answer == "none good":
        return "none good"
    if not other.is_threshold or not (base.is_threshold or base.answer == "none good"):
        return "not known" if "unknown" in (base.answer, other.answer) else "no threshold"
    if base.is_threshold and abs(other.value - base.value) < least:
        return "no difference found"
    if base.is_threshold:
        gain = float(unit.shown(other.value - base.value))
        return f"{round_to(gain, 1, 'down'):+.1f}{unit.unit}"
    return f"from none to {round_to(float(unit.shown(other.value)), 1, 'down'):.1f}{unit.unit}"


def _said(level: Any, known: Quantity) -> str:
    return level if isinstance(level, str) else known.said(float(level))


def _scale(spread: Any, every: pd.DataFrame, asked: Sequence[Side], varied: Varied) -> None:
    """From nothing to above all there is; slopes in % too, on the right."""
    unit = quantity(asked[0].column)
    highest = max(float(unit.shown(every[side.column].max())) for side in asked)
    step = 5.0 if varied.dimension == "slope" else 10.0 ** (len(str(int(highest or 1))) - 1)
    spread[0, 0].set_ylim(0.0, step * ceil((0.0 if isnan(highest) else highest) / step + 0.1))
    if varied.dimension != "slope":
        return
    for axes in spread[:, -1]:
        right = axes.secondary_yaxis("right")
        ticks = [tick for tick in axes.get_yticks() if tick <= axes.get_ylim()[1]]
        right.set_yticks(ticks, [f"{100 * tan(radians(tick)):.0f} %" for tick in ticks])


def _name(figure: Figure, every: pd.DataFrame, by: str | None, seen: set[str]) -> None:
    """Legends: the lines, and below them the kinds of answers that occur."""
    high = figure.get_size_inches()[1]
    if by is not None:
        found, known = levels(every[by]), quantity_of(every[by])
        looks = [look_of(k, len(found)) for k in range(len(found))]
        lines = [
            Line2D([], [], color=ink, ls=dashes, lw=1.7, label=_said(level, known))
            for level, (ink, dashes) in zip(found, looks, strict=True)
        ]
        name = Line2D([], [], ls="", label=f"{known.words}:")
        figure.legend(
            handles=[name, *lines], loc="lower center", ncols=len(lines) + 1,
            bbox_to_anchor=(0.5, 0.42 / high), handlelength=3.2,
        )  # fmt: skip
    marks = [
        Line2D(
            [],
            [],
            marker=marker,
            ms=5,
            mec=GREY,
            mfc=GREY if filled else "white",
            ls="",
            label=f"{'(!) ' if answer == 'alternates' else ''}{ANSWERS[answer]}",
        )
        for answer, (marker, filled) in _MARKS.items()
        if answer in seen
    ]
    if "unknown" in seen:
        query = TextPath((-3.0, -3.5), "?")
        marks.append(Line2D([], [], marker=query, ms=6, color=GREY, ls="", label="not known"))
    figure.legend(
        handles=marks, loc="lower center", ncols=len(marks), bbox_to_anchor=(0.5, 0.2 / high)
    )
