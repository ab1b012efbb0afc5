"""Strips under one another: what each outfit does at every value of one quantity."""

from collections.abc import Mapping, Sequence
from math import radians, tan
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch, Rectangle

from sidehill.caution import IN_SHORT
from sidehill.picture.colours import DARK_GREY, GREY, PLUM
from sidehill.picture.faces import face, keys
from sidehill.picture.quantity import quantity
from sidehill.picture.shown import Picture
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.run.facts import worst_seen
from sidehill.strip.quantity import Varied
from sidehill.strip.stretch import stretches
from sidehill.strip.strip import PLOTTERS, Strip
from sidehill.strip.words import island_words

_THICK = 0.62  # of a strip, in rows
_GAP = 0.75  # rows above a group's first strip
_WIDE, _ROW, _HEAD, _KEY, _FOOT = 9.6, 0.36, 0.95, 0.2, 0.75  # [in]
_COLUMNS = 2  # of the legend
_TICK: dict[str, Any] = {"color": DARK_GREY, "lw": 2.0, "solid_capstyle": "butt"}
_ASKED: dict[str, Any] = {"color": PLUM, "lw": 1.4, "ls": (0, (4, 2))}


def plot(strip: Strip, title: str = "", kind: Kind = "png") -> Picture:
    """One strip in hand."""
    return Picture(strips_picture({"": strip}, title or f"by {strip.varied.words}", kind), kind)


PLOTTERS[Strip] = plot


def strips_picture(
    strips: Mapping[str, Strip],
    title: str,
    kind: Kind = "png",
    *,
    asked: float | None = None,
    lift_offs: Mapping[str, float] | None = None,
) -> bytes:
    """Strips of one quantity, by name; what stands before a comma in a name is its group.

    Args:
        asked: [SI] the value that was asked about; lift_offs: [SI] by name, the value at which
            the machine, standing still, lifts a wheel on the simulation's tyres.
    """
    first = next(iter(strips.values()))
    with look():
        drawn = [face(*worst_seen(part.facts)) for s in strips.values() for part in stretches(s)]
        handles = [*keys(drawn), *_lines(first.varied, asked, lift_offs)]
        foot = _FOOT + _KEY * -(-len(handles) // _COLUMNS)
        places = _rows(list(strips))
        size = (_WIDE, _ROW * (places[-1] + 1.0) + _HEAD + foot)
        figure = Figure(figsize=size)
        axes = figure.add_subplot()
        for place, (name, strip) in zip(places, strips.items(), strict=True):
            _draw(axes, place, strip)
            if lift_offs is not None and name in lift_offs:
                _tick(axes, place, first.varied.from_si(lift_offs[name]))
        _dress(axes, places, strips, first.varied)
        if asked is not None:
            axes.axvline(first.varied.from_si(asked), zorder=5, **_ASKED)
        figure.suptitle(title, fontweight="bold", parse_math=False)
        figure.tight_layout(rect=(0.0, (foot - 0.4) / size[1], 1.0, 1.0))
        figure.legend(
            handles=handles, loc="lower center", ncols=_COLUMNS, handlelength=2.6,
            bbox_to_anchor=(0.5, 0.3 / size[1]), handleheight=1.2,
        )  # fmt: skip
        footnote(figure, f"{_sentence(island_words(first))}. White: not tried. {IN_SHORT}")
        return image(figure, kind)


def _rows(names: Sequence[str]) -> list[float]:
    """Where each strip stands; a group leaves a gap above it for its name."""
    places, place, last = [], -1.0, None
    for name in names:
        group, comma, _ = name.partition(", ")
        place += 1.0 if not comma or group == last else 1.0 + _GAP
        places.append(place)
        last = group
    return places


def _draw(axes: Axes, place: float, strip: Strip) -> None:
    shown = strip.varied.from_si
    for part in stretches(strip):
        known = face(*worst_seen(part.facts))
        low, high = shown(part.low), shown(part.high)
        axes.add_patch(
            Rectangle((low, place - _THICK / 2.0), high - low, _THICK, zorder=2, **known.style)
        )
    low, high = shown(strip.spots[0].value), shown(strip.spots[-1].value)
    frame = Rectangle((low, place - _THICK / 2.0), high - low, _THICK, fill=False, ec=GREY, lw=0.6)
    frame.set_zorder(3)
    axes.add_patch(frame)


def _tick(axes: Axes, place: float, at: float) -> None:
    half = 0.5 * _THICK + 0.14
    axes.plot([at, at], [place - half, place + half], color="white", lw=4.0, zorder=4)
    axes.plot([at, at], [place - half, place + half], zorder=4, **_TICK)


def _lines(
    varied: Varied, asked: float | None, lift_offs: Mapping[str, float] | None
) -> list[Line2D | Patch]:
    found: list[Line2D | Patch] = []
    if lift_offs:
        words = "standing still on tyres that give, a wheel lifts here"
        found.append(Line2D([], [], label=words, **_TICK))
    if asked is not None:
        words = f"asked about: {varied.show(asked)}"
        found.append(Line2D([], [], label=words, **_ASKED))
    return found


def _dress(
    axes: Axes, places: Sequence[float], strips: Mapping[str, Strip], varied: Varied
) -> None:
    """Scales, names and groups."""
    names = list(strips)
    axes.set_yticks(places, [name.partition(", ")[2] or name for name in names], parse_math=False)
    last = None
    for place, name in zip(places, names, strict=True):
        group, comma, _ = name.partition(", ")
        if comma and group != last:
            axes.text(
                0.0, place - 0.85, group, transform=axes.get_yaxis_transform(), fontweight="bold",
                color=PLUM, va="center", parse_math=False,
            )  # fmt: skip
        last = group
    ends = [varied.from_si(s.spots[k].value) for s in strips.values() for k in (0, -1)]
    axes.set_xlim(min(0.0, *ends), max(ends))
    axes.set_ylim(places[-1] + 0.7, -0.7)
    axes.grid(axis="y", visible=False)
    axes.tick_params(axis="y", length=0.0)
    known = quantity(f"{varied.name}_{varied.suffix}", ends)
    axes.set_xlabel(f"{varied.words} [{known.unit}]")
    axes.xaxis.set_major_formatter(lambda value, _: f"{float(known.shown(value)):g}")
    if varied.dimension == "slope":
        upper = axes.secondary_xaxis("top")
        ticks = [tick for tick in axes.get_xticks() if tick <= max(ends)]
        upper.set_xticks(ticks, [f"{100 * tan(radians(tick)):.0f} %" for tick in ticks])


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:]
