"""Fragility: the share of draws in which an event has come, over the value; a pane an option."""

from collections.abc import Mapping, Sequence
from math import ceil
from textwrap import fill

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.caution import IN_SHORT
from sidehill.picture.chances import LOOKS
from sidehill.picture.quantity import quantity
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.strip.words import EVENT_WORDS

_PANE, _FOOT, _ACROSS = (3.6, 2.9), 0.75, 3  # [in]; panes side by side
_LETTERS = 10.5  # of the title in an inch
_DASHES = {"not_started": (0, (1, 1.2))}


def fragility_picture(
    panes: Mapping[str, pd.DataFrame], events: Sequence[str], title: str, kind: Kind = "png"
) -> bytes:
    """A line an event of every table of `sweep.fragility.fragility`, by the option's name."""
    across = min(len(panes), _ACROSS)
    down = ceil(len(panes) / across)
    with look():
        size = (_PANE[0] * across + 0.6, _PANE[1] * down + 0.6 + _FOOT)
        figure = Figure(figsize=size)
        spread = figure.subplots(down, across, squeeze=False, sharex=True, sharey=True)
        for axes, (name, table) in zip(spread.flat, panes.items(), strict=False):
            _draw(axes, table, events)
            axes.set_title(name, fontsize=8.5, parse_math=False)
            axes.set_xlabel(quantity(str(table.columns[0]), table.iloc[:, 0].to_numpy()).label)
        for axes in spread.flat[len(panes) :]:
            axes.set_visible(False)
        for axes in spread[:, 0]:
            axes.set_ylabel("share of the draws [%]")
        spread[0, 0].set_ylim(-2.0, 102.0)
        lines = (fill(line, int(_LETTERS * size[0])) for line in title.splitlines())
        figure.suptitle("\n".join(lines), fontweight="bold", fontsize=9.5, parse_math=False)
        figure.tight_layout(rect=(0.0, _FOOT / size[1], 1.0, 1.0))
        handles, labels = spread[0, 0].get_legend_handles_labels()
        figure.legend(
            handles, labels, loc="lower center", ncols=2 if size[0] < 7.0 else 3,
            bbox_to_anchor=(0.5, 0.36 / size[1]),
        )  # fmt: skip
        footnote(
            figure,
            "Line: share in which it came, could not start, or is not proved to have stayed out; "
            "pale: down to\nthe share in which it is known to have come. Band: 95 % interval. By "
            f"the spreads assumed. {IN_SHORT}",
        )
        return image(figure, kind)


def _draw(axes: Axes, table: pd.DataFrame, events: Sequence[str]) -> None:
    # what is known of a value holds down to the one before: the worse of the two
    column = str(table.columns[0])
    shown = quantity(column, table[column].to_numpy())
    for event in events:
        part = table[table["event"] == event]
        ink, _ = LOOKS[event]
        x = shown.shown(part[column].to_numpy())
        most, least = 100.0 * part["most"].to_numpy(), 100.0 * part["least"].to_numpy()
        axes.fill_between(
            x, 100.0 * part["low"].to_numpy(), 100.0 * part["high"].to_numpy(), color=ink,
            alpha=0.12, lw=0.0, step="pre",
        )  # fmt: skip
        axes.fill_between(x, least, most, color=ink, alpha=0.25, lw=0.0, step="pre")
        dashes = _DASHES.get(event, "-")
        axes.plot(
            x, most, color=ink, lw=1.7, ls=dashes, label=EVENT_WORDS[event], drawstyle="steps-pre"
        )
