"""A map: verdicts, or one number, over two of the things that vary; one pane an option."""

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
from sidehill.picture.quantity import Quantity, quantity, quantity_of
from sidehill.picture.shade import RAMP, class_of, fill, scale, words
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.picture.verdicts import UNKNOWN_FACE, UNKNOWN_OVER, keys
from sidehill.sweep.measure import VERDICT, low_is_bad

_MOST_WRITTEN = 24  # levels along an axis up to which every cell has its number
_MOST_TICKS = 16
_ACROSS = 3  # panes side by side
_LEVEL, _LEAST, _MOST = (0.33, 0.3), (2.4, 1.9), (7.5, 4.5)  # [in] a level, a pane
_LEFT, _RIGHT, _HEAD, _FOOT = 1.5, 1.0, 0.8, 1.05  # [in] around the panes and in each


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
        of: `verdict`, or what `measure` takes; note: said below.
    """
    drawn = {name: cells(table, x, y, of) for name, table in panes.items()}
    every = [cell for part in drawn.values() for cell in part.cells]
    norm = scale(every, of)
    shown = [quantity_of(pd.concat([t[name] for t in panes.values()])) for name in (x, y)]
    with look():
        figure, spread = _page(list(drawn.values()))
        for axes, (name, part) in zip(spread.flat, drawn.items(), strict=False):
            axes.set_title(name, parse_math=False)
            _draw(axes, part, of, norm)
            _dress(axes, part, shown)
        for axes in spread[:, 0]:
            axes.set_ylabel("" if y == "option" else shown[1].label)
        for axes in spread.flat[len(panes) :]:
            axes.set_visible(False)
        said = "" if of == VERDICT else f"\n{quantity(of).label}"
        figure.suptitle(title + said, fontweight="bold", parse_math=False)
        wide, high = figure.get_size_inches()
        has_ramp = any(class_of(cell, of) is None for cell in every)
        figure.tight_layout(rect=(0.0, 0.75 / high, 1.0 - (0.8 / wide if has_ramp else 0.0), 1.0))
        if has_ramp:
            _key_of_numbers(figure, norm, of)
        _name_classes(figure, every, of)
        footnote(figure, f"{note}{_worse_end(every)}{IN_SHORT}")
        return image(figure, kind)


def _page(drawn: Sequence[Cells]) -> tuple[Figure, Any]:
    """A page with room for every level of every pane."""
    across = min(len(drawn), _ACROSS)
    down = ceil(len(drawn) / across)
    counts = max(len(d.x_levels) for d in drawn), max(len(d.y_levels) for d in drawn)
    wide, high = (
        min(max(level * count, least), most)
        for level, count, least, most in zip(_LEVEL, counts, _LEAST, _MOST, strict=True)
    )
    size = (wide * across + _LEFT + _RIGHT, (high + _HEAD) * down + _FOOT)
    figure = Figure(figsize=size)
    return figure, figure.subplots(down, across, squeeze=False)


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


def _key_of_numbers(figure: Figure, norm: Normalize, of: str) -> None:
    """The ramp, beside the panes."""
    wide, high = figure.get_size_inches()
    key = figure.add_axes((1.0 - 0.75 / wide, 1.0 / high, 0.14 / wide, (high - 2.0) / high))
    figure.colorbar(ScalarMappable(norm, RAMP.reversed() if low_is_bad(of) else RAMP), cax=key)
    key.set_ylabel("the worse the darker", fontsize=7.0)


def _name_classes(figure: Figure, every: Sequence[Cell], of: str) -> None:
    """The legend of the classes that occur."""
    drawn = [class_of(cell, of) for cell in every]
    unknown = [UNKNOWN_FACE] if any(cell.unknown for cell in every) else []
    entries = keys([*drawn, *unknown])
    if any(cell.none_good for cell in every):
        entries.append(Patch(fill=False, lw=0, label="none: bad at the lowest value tried"))
    if any(cell.alternates for cell in every):
        entries.append(Patch(fill=False, lw=0, label="(!): good again higher up, no threshold"))
    if entries:
        figure.legend(
            handles=entries, loc="lower center", ncols=min(len(entries), 4), handleheight=1.6,
            handlelength=2.6, bbox_to_anchor=(0.5, 0.16 / figure.get_size_inches()[1]),
        )  # fmt: skip


def _worse_end(every: Sequence[Cell]) -> str:
    most = max((cell.rows for cell in every), default=1)
    return f"Each cell shows the worst of up to {most} cases. " if most > 1 else ""
