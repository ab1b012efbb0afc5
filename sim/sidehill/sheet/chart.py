"""The chart of the ranking: each option's standing interval, and where driving ended."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, degrees, isfinite, isnan, radians, tan

from markupsafe import Markup
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PALE_PLUM, PLUM
from sidehill.sheet.cells import slope
from sidehill.sheet.findings import Findings
from sidehill.sheet.svg import drawing, svg

_STEEPEST = 45.0  # [deg] drawn


@dataclass(frozen=True)
class Line:
    """One option [deg]; NaN: not known."""

    name: str
    low: float
    best: float
    high: float
    driven: float  # to which driving is good


def chart(found: Findings) -> Markup:
    """The picture."""
    lines = _lines(found)
    with drawing("chart"):
        figure = Figure(figsize=(9.2, 1.5 + 0.3 * len(lines)))
        axes = figure.add_subplot()
        for place, line in enumerate(lines):
            _draw(axes, place, line)
        _dress(axes, lines, degrees(found.wanted))
        figure.tight_layout(rect=(0.0, 0.06 if len(lines) > 5 else 0.12, 1.0, 1.0))
        figure.legend(loc="lower center", ncols=4, bbox_to_anchor=(0.5, 0.0))
        return svg(figure, _alt(lines))


def _lines(found: Findings) -> list[Line]:
    lines = []
    for option in found.ranking.options:
        interval = found.standing[option.option].lift_off
        ends = (float("nan"),) * 3
        if not isinstance(interval, str):
            ends = (interval.low, interval.best, interval.high)
        lines.append(Line(option.option, *ends, option.buys["good_up_to_deg"]))
    return lines


def _draw(axes: Axes, place: int, line: Line) -> None:
    if isnan(line.low):
        axes.text(0.4, place, "could not compute", va="center", color=PLUM, fontsize=8)
    else:
        high = line.high if isfinite(line.high) else _STEEPEST
        axes.plot([line.low, high], [place, place], color=PALE_PLUM, lw=5.0, solid_capstyle="butt")
        axes.plot(line.low, place, "o", ms=6.5, mfc=PLUM, mec=PLUM)
        axes.plot(line.best, place, "o", ms=5.5, mfc="white", mec=PLUM, mew=1.2)
    if not isnan(line.driven):
        axes.plot(line.driven, place, "D", ms=5.5, mfc=DARK_GREY, mec="white", mew=0.7, zorder=4)


def _dress(axes: Axes, lines: Sequence[Line], wanted: float) -> None:
    """Scales, names and legend."""
    axes.axvline(wanted, color=GREY, lw=1.0, ls="--", label="wanted slope")
    axes.plot([], [], "o", ms=6.5, color=PLUM, label="lifts a wheel standing: at least")
    axes.plot([], [], "o", ms=5.5, mfc="white", mec=PLUM, label="the same, best estimate")
    axes.plot([], [], "D", ms=5.5, color=DARK_GREY, label="driven: at most a hop, and across")
    axes.set_yticks(range(len(lines)), [line.name for line in lines])
    for label in axes.get_yticklabels():
        label.set_parse_math(False)
    axes.set_ylim(len(lines) - 0.5, -0.6)
    values = [value for line in lines for value in (line.high, line.driven) if isfinite(value)]
    highest = min(max([*values, wanted, 10.0]), _STEEPEST)
    axes.set_xlim(0.0, 5.0 * ceil(highest / 5.0))
    axes.grid(axis="y", visible=False)
    axes.set_xlabel("side slope [°]", color=DARK_PLUM)
    upper = axes.secondary_xaxis("top")
    ticks = list(axes.get_xticks())
    upper.set_xticks(ticks, [f"{100 * tan(radians(tick)):.0f} %" for tick in ticks])


def _alt(lines: Sequence[Line]) -> str:
    told = [f"{line.name}: at least {slope(line.low)}" for line in lines]
    return (
        "Chart of the ranking, the figures of which are in the table above. Side slope at which a "
        f"wheel lifts standing still. {'; '.join(told)}."
    )
