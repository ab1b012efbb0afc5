"""The ladder as a picture: one line a rung, its three slopes, and what each rung changes."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, radians, tan

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PALE_PLUM, PLUM
from sidehill.picture.style import footnote, look, svg

_MARKS = {  # figure -> (label, marker, face, edge)
    "overturn": ("overturn: goes over", "|", DARK_PLUM, DARK_PLUM),
    "second_stage": ("second stage: only if lowered gently", "s", "white", GREY),
    "lift_off": ("lift-off: the uphill rear wheel carries nothing", "o", PLUM, PLUM),
}
_SIZE, _EDGE = {"|": 15, "s": 7, "o": 6}, {"|": 2.4, "s": 1.2, "o": 1.0}  # [pt] by marker


@dataclass(frozen=True)
class Line:
    """One rung. Side slopes [deg]; None where there is none to draw."""

    name: str
    lift_off: float | None
    second_stage: float | None
    overturn: float | None
    change: float | None = None  # [deg] of the lift-off slope
    since: str = ""  # name of the line that the change is measured from


def ladder_picture(lines: Sequence[Line], title: str) -> str:
    """An SVG element, text kept as text."""
    with look(), mpl.rc_context({"svg.fonttype": "none"}):
        figure = Figure(figsize=(9.6, 1.7 + 0.42 * len(lines)))
        axes = figure.add_subplot()
        _draw(axes, lines)
        _dress(axes, lines)
        figure.suptitle(title, fontweight="bold")
        figure.tight_layout(rect=(0.0, 0.09, 1.0, 0.99))
        figure.legend(loc="lower center", ncols=3, bbox_to_anchor=(0.5, 0.025))
        footnote(figure, "A model compares; it does not permit.")
        text = svg(figure).decode()
    return text[text.index("<svg") :]  # an element for a page, not a file of its own


def _draw(axes: Axes, lines: Sequence[Line]) -> None:
    places = {line.name: place for place, line in enumerate(lines)}
    for place, line in enumerate(lines):
        if all(getattr(line, figure) is None for figure in _MARKS):
            axes.text(0.4, place, "could not compute", va="center", color=PLUM, fontsize=8)
            continue
        if line.change is not None and line.lift_off is not None:
            axes.plot(
                [line.lift_off - line.change, line.lift_off], [places[line.since], place],
                color=PALE_PLUM, lw=1.4, zorder=1,
            )  # fmt: skip
            axes.annotate(
                f"{line.change:+.2f}°", (line.lift_off, place), textcoords="offset points",
                xytext=(-7, 0), ha="right", va="center", fontsize=7, color=DARK_GREY,
            )  # fmt: skip
        for figure, (_, marker, face, edge) in _MARKS.items():
            value = getattr(line, figure)
            if value is not None:
                axes.plot(
                    value, place, marker=marker, ms=_SIZE[marker], mew=_EDGE[marker],
                    mfc=face, mec=edge, ls="", zorder=3,
                )  # fmt: skip


def _dress(axes: Axes, lines: Sequence[Line]) -> None:
    """Scales, names and legend."""
    for label, marker, face, edge in _MARKS.values():
        axes.plot(
            [], [], marker=marker, ms=_SIZE[marker], mew=_EDGE[marker], mfc=face, mec=edge,
            ls="", label=label,
        )  # fmt: skip
    axes.set_yticks(range(len(lines)), [line.name for line in lines])
    axes.set_ylim(len(lines) - 0.4, -0.6)
    values = [getattr(line, figure) for line in lines for figure in _MARKS]
    highest = max((value for value in values if value is not None), default=40.0)
    axes.set_xlim(0.0, 5.0 * ceil(highest / 5.0 + 0.2))
    axes.set_xlabel("side slope [°]; beside a mark: what the rung changes of the lift-off slope")
    upper = axes.secondary_xaxis("top")
    ticks = list(axes.get_xticks())
    upper.set_xticks(ticks, [f"{100 * tan(radians(tick)):.0f} %" for tick in ticks])
