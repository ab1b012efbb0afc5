"""Roll, balance angle and wheel loads over time, or over the slope of a tilt table; a column each.

Spells with a wheel up are bands through all of them.
"""

from collections.abc import Iterable, Mapping
from math import degrees
from textwrap import fill
from typing import Literal

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.caution import IN_SHORT
from sidehill.kernels.layout import Vector
from sidehill.machine.linkage import WHEELS
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PALE_GREY, PALE_PLUM, PLUM
from sidehill.picture.style import footnote, look, png
from sidehill.run.record import Record
from sidehill.strip.words import facts_words

_LOAD_LINES = {
    "uphill rear": (PLUM, "-", 1.8),
    "uphill front": (PLUM, (0, (4, 1.5)), 1.2),
    "downhill rear": (GREY, "-", 1.8),
    "downhill front": (GREY, (0, (4, 1.5)), 1.2),
}
_LETTERS = 44  # of a line of a column's title
_COLUMN, _HEIGHT = 3.4, 7.4  # [in]
TOP_ROLL = 40.0  # [deg] drawn, to either side: what goes past it is on its way over
TOP_ANGLE = 45.0  # [deg] of the angles left that is drawn


def history_picture(records: Mapping[str, Record], title: str = "") -> bytes:
    """PNG: roll, angles left and wheel loads over time, side by side on the same scales."""
    with look():
        count = len(records)
        figure = Figure(figsize=(max(_COLUMN * count, 6.4), _HEIGHT))
        panes = figure.subplots(3, count, sharex=True, sharey="row", squeeze=False)
        for column, (name, record) in enumerate(records.items()):
            _draw_roll(panes[0, column], record, name)
            _draw_angles(panes[1, column], record)
            _draw_loads(panes[2, column], record)
            for axes in panes[:, column]:
                _shade_spells(axes, record)
        panes[0, 0].set_ylabel("roll to the slope [°]")
        panes[1, 0].set_ylabel("angle left [°]")
        panes[2, 0].set_ylabel("wheel load [kN]")
        if title:
            figure.suptitle(title, fontweight="bold", fontsize=10.0)
        _name_lines(figure, panes[:2].ravel(), "lower left", 0.02)
        _name_lines(figure, panes[2], "lower right", 0.99)
        figure.tight_layout(rect=(0.0, 0.145, 1.0, 1.0))
        footnote(figure, IN_SHORT)
        return png(figure)


def _name_lines(
    figure: Figure, row: Iterable[Axes], place: Literal["lower left", "lower right"], x: float
) -> None:
    """One legend for a row of panes, each line named once."""
    named = {
        label: handle
        for axes in row
        for handle, label in zip(*axes.get_legend_handles_labels(), strict=True)
    }
    figure.legend(list(named.values()), list(named), loc=place, ncols=2, bbox_to_anchor=(x, 0.035))


def _draw_roll(axes: Axes, record: Record, name: str) -> None:
    """Roll of the body and of the pin, with the stop's limits."""
    outcome = record.outcome
    shown = "" if _is_tilt_table(record) else facts_words(outcome.stability, outcome.progress)
    axes.set_title(f"{name}\n{fill(shown, _LETTERS)}".strip(), fontsize=9.0)
    if not len(record.columns["t_s"]):
        _say(axes, "nothing is known of this run")
        return
    if outcome.progress == "not_started":
        _say(
            axes, "it could not stand on four wheels\nas the bank came under it:\nno drive was run"
        )
    along, swing = _along(record), _swing(record)
    axes.plot(along, record.columns["roll_slope_deg"], color=PLUM, lw=1.8, label="body roll")
    axes.plot(
        along,
        record.columns["pin_deg"] * -_downhill(record),
        color=GREY,
        lw=1.0,
        ls="-.",
        label="axle swing",
    )
    for stop in (-swing, swing):
        axes.axhline(stop, color=DARK_GREY, lw=0.8, ls=":", label="axle stop")
    keep_to(axes, TOP_ROLL)
    _shade_feature(axes, record)


def keep_to(axes: Axes, most: float) -> None:
    """Draw no more than that to either side of nothing."""
    low, high = axes.get_ylim()
    axes.set_ylim(max(low, -most), min(high, most))


def _draw_angles(axes: Axes, record: Record) -> None:
    """What the whole machine, and its body alone, would still have to turn to be carried over."""
    along = _along(record)
    for name, words, ink, dashes in (
        ("balance_angle_deg", "balance angle", DARK_PLUM, "-"),
        ("lift_off_angle_deg", "lift-off angle", GREY, (0, (4, 1.5))),
    ):
        axes.plot(along, record.columns[name], color=ink, ls=dashes, lw=1.6, label=words)
    axes.axhline(0.0, color=DARK_GREY, lw=0.8)
    axes.set_ylim(bottom=0.0, top=min(axes.get_ylim()[1], TOP_ANGLE))


def _shade_spells(axes: Axes, record: Record) -> None:
    """The times at which a wheel was up."""
    time, along = record.columns["t_s"], _along(record)
    if not len(time):
        return
    for spell in record.outcome.spells:
        start, end = np.interp((spell.start_s, spell.end_s), time, along)
        axes.axvspan(start, end, color=PALE_PLUM, lw=0, zorder=0.5, label="a wheel is up")


def _draw_loads(axes: Axes, record: Record) -> None:
    """Wheel loads."""
    axes.set_xlabel("slope of the table [°]" if _is_tilt_table(record) else "time [s]")
    along = _along(record)
    for wheel in WHEELS:
        end, side = wheel.split("_")
        is_down = (side == "right") == (_downhill(record) > 0)
        name = f"{'downhill' if is_down else 'uphill'} {end}"
        colour, dashes, width = _LOAD_LINES[name]
        load = record.columns[f"load_{wheel}_n"] / 1000.0
        axes.plot(along, load, color=colour, ls=dashes, lw=width, label=name)
    axes.set_ylim(bottom=0.0)


def _say(axes: Axes, words: str) -> None:
    corner = axes.transAxes
    axes.text(
        0.98, 0.96, words, transform=corner, ha="right", va="top", color=PLUM, fontsize=8.0,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.5}, zorder=5,
    )  # fmt: skip


def _shade_feature(axes: Axes, record: Record) -> None:
    """When the axles are over a feature of the ground."""
    time, path = record.columns["t_s"], record.columns["path_m"]
    case = record.meta["case"]
    wheelbase = case["machine"]["body"]["wheelbase"]
    for feature in case["scenario"]["feature"]:
        half = 0.5 * (feature["length"] or 2.0 * feature["height"])
        for ahead, hatch, name in ((wheelbase, "////", "front"), (0.0, "", "rear")):
            over = np.abs(path + ahead - feature["at"]) <= half
            if over.any():
                axes.axvspan(
                    *time[over][[0, -1]], facecolor="none" if hatch else PALE_GREY,
                    edgecolor=PALE_GREY, hatch=hatch, lw=0,
                    label=f"{name} axle at the {feature['shape']}",
                )  # fmt: skip


def _is_tilt_table(record: Record) -> bool:
    return str(record.meta["case"]["scenario"]["course"]["path"]) == "tilt table"


def _along(record: Record) -> Vector:
    """What things are drawn over: time, or the slope of a tilt table as it turns."""
    return record.columns["slope_deg" if _is_tilt_table(record) else "t_s"]


def _downhill(record: Record) -> float:
    """+1 if the right side is downhill, else -1."""
    return 1.0 if record.meta["case"]["scenario"]["ground"]["downhill"] == "right" else -1.0


def _swing(record: Record) -> float:
    """[deg] of the front axle, each way."""
    case = record.meta["case"]
    tightened = case["outfit"]["front_axle_swing"]
    return degrees(case["machine"]["front_axle"]["swing"] if tightened is None else tightened)
