"""A map: facts, or one number, over two of the things that vary; one pane an option."""

from collections.abc import Sequence
from math import ceil
from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.colors import Normalize
from matplotlib.figure import Figure
from matplotlib.patches import Patch, Rectangle

from sidehill.caution import IN_SHORT
from sidehill.picture.cells import Cell, Cells, cells
from sidehill.picture.faces import UNKNOWN_FACE, UNKNOWN_OVER, keys
from sidehill.picture.quantity import Quantity, quantity, quantity_of
from sidehill.picture.shade import NOWHERE, RAMP, WRITTEN, class_of, fill, scale, words
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.sweep.limits import ANSWERS
from sidehill.sweep.measure import STABILITY, low_is_bad

_MOST_WRITTEN = 24  # levels along an axis up to which every cell has its number
_MOST_TICKS = 16
_ACROSS = 3  # panes side by side
_LEVEL, _LEAST, _MOST = (0.33, 0.3), (2.4, 1.9), (7.5, 4.5)  # [in] a level, a pane
_LEFT, _RIGHT, _HEAD, _FOOT = 1.5, 1.0, 0.8, 0.8  # [in] around the panes and in each
MARKS = NOWHERE | WRITTEN
_KEY, _ROOMY = 0.21, 8.0  # [in] a line of the legend; the width that has room for two columns


def map_picture(
    panes: dict[str, pd.DataFrame],
    x: str,
    y: str,
    of: str,
    title: str,
    kind: Kind = "png",
    note: str = "",
) -> bytes:
    """A map of each table over two of its columns.

    Args:
        panes: tables by the name of what they show, as an option's;
        of: `stability`, or what `measure` takes; note: said below.
    """
    drawn = {name: cells(table, x, y, of) for name, table in panes.items()}
    every = [cell for part in drawn.values() for cell in part.cells]
    norm = scale(every, of)
    shown = [quantity_of(pd.concat([t[name] for t in panes.values()])) for name in (x, y)]
    with look():
        entries = _classes(every, of)
        figure, spread, foot = _page(list(drawn.values()), len(entries))
        for axes, (name, part) in zip(spread.flat, drawn.items(), strict=False):
            axes.set_title(name, parse_math=False)
            _draw(axes, part, of, norm)
            _dress(axes, part, shown)
        for axes in spread[:, 0]:
            axes.set_ylabel("" if y == "option" else shown[1].label)
        for axes in spread.flat[len(panes) :]:
            axes.set_visible(False)
        said = "" if of == STABILITY else f"\n{quantity(of).label}"
        figure.suptitle(title + said, fontweight="bold", parse_math=False)
        wide, high = figure.get_size_inches()
        has_ramp = any(class_of(cell, of) is None for cell in every)
        figure.tight_layout(rect=(0.0, foot / high, 1.0 - (0.8 / wide if has_ramp else 0.0), 1.0))
        if has_ramp:
            _key_of_numbers(figure, norm, of, foot)
        if entries:
            figure.legend(
                handles=entries, loc="lower center", ncols=_columns(wide), handleheight=1.4,
                handlelength=2.6, bbox_to_anchor=(0.5, 0.22 / high),
            )  # fmt: skip
        footnote(figure, f"{note}{_worse_end(every)}{IN_SHORT}")
        return image(figure, kind)


def _page(drawn: Sequence[Cells], entries: int) -> tuple[Figure, Any, float]:
    """A page with room for every level of every pane; [in] of its legend."""
    across = min(len(drawn), _ACROSS)
    down = ceil(len(drawn) / across)
    counts = max(len(d.x_levels) for d in drawn), max(len(d.y_levels) for d in drawn)
    wide, high = (
        min(max(level * count, least), most)
        for level, count, least, most in zip(_LEVEL, counts, _LEAST, _MOST, strict=True)
    )
    width = wide * across + _LEFT + _RIGHT
    foot = 0.35 + _KEY * ceil(entries / _columns(width))
    figure = Figure(figsize=(width, (high + _HEAD) * down + _FOOT + foot))
    return figure, figure.subplots(down, across, squeeze=False), foot


def _columns(width: float) -> int:
    return 2 if width >= _ROOMY else 1


def _draw(axes: Axes, part: Cells, of: str, norm: Normalize) -> None:
    is_written = max(len(part.x_levels), len(part.y_levels)) <= _MOST_WRITTEN
    for cell in part.cells:
        corner = (cell.column - 0.5, cell.row - 0.5)
        style, ink = fill(cell, of, norm)
        axes.add_patch(Rectangle(corner, 1.0, 1.0, **style))
        if cell.unknown and style["hatch"] != UNKNOWN_FACE.hatch:
            axes.add_patch(Rectangle(corner, 1.0, 1.0, **UNKNOWN_OVER))
        if is_written:
            axes.text(
                cell.column, cell.row, words(cell, of), ha="center", va="center", fontsize=6.5,
                color=ink,
            )  # fmt: skip


def _dress(axes: Axes, part: Cells, shown: Sequence[Quantity]) -> None:
    """Scales and names; every level has the same room."""
    axes.set_xlim(-0.5, len(part.x_levels) - 0.5)
    axes.set_ylim(-0.5, len(part.y_levels) - 0.5)
    axes.grid(visible=False)
    axes.set_xticks(*_ticks(part.x_levels, shown[0], "\n"))
    axes.set_yticks(*_ticks(part.y_levels, shown[1], " = "))
    axes.set_xlabel(shown[0].label)


def _ticks(levels: Sequence[Any], shown: Quantity, between: str) -> tuple[list[int], list[str]]:
    every = ceil(len(levels) / _MOST_TICKS)
    places = list(range(0, len(levels), every))
    return places, [shown.tick(levels[place], between) for place in places]


def _key_of_numbers(figure: Figure, norm: Normalize, of: str, foot: float) -> None:
    """The ramp, beside the panes, which end `foot` [in] above the bottom."""
    wide, high = figure.get_size_inches()
    key = figure.add_axes(
        (1.0 - 0.75 / wide, (foot + 0.5) / high, 0.14 / wide, (high - foot - 1.5) / high)
    )
    figure.colorbar(ScalarMappable(norm, RAMP.reversed() if low_is_bad(of) else RAMP), cax=key)
    key.set_ylabel("the worse the darker", fontsize=7.0)


def _classes(every: Sequence[Cell], of: str) -> list[Patch]:
    """Legend entries of what occurs."""
    unknown = [UNKNOWN_FACE] if any(cell.unknown for cell in every) else []
    seen = {cell.answer for cell in every}
    marks = [f"{mark.strip()}: {ANSWERS[one]}" for one, mark in MARKS.items() if one in seen]
    return [
        *keys([*(class_of(cell, of) for cell in every), *unknown]),
        *(Patch(fill=False, lw=0, label=said) for said in marks),
    ]


def _worse_end(every: Sequence[Cell]) -> str:
    most = max((cell.rows for cell in every), default=1)
    return f"Each cell shows the worst of up to {most} cases. " if most > 1 else ""
