"""The limit chart: how far each option stays good, for each event."""

import json
from collections.abc import Sequence
from math import ceil, isnan, radians, tan
from typing import Any

import pandas as pd
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.caution import IN_SHORT
from sidehill.picture.style import (
    DARK_GREY,
    DARK_PLUM,
    GREY,
    PALE_PLUM,
    PLUM,
    footnote,
    look,
    png,
)
from sidehill.strip.phrase import reason

_EVENTS = {  # event -> (label, face, hatch)
    "lift": ("until a wheel lifts", PALE_PLUM, "////"),
    "stop": ("until it comes onto its axle stop", GREY, ""),
    "overturn": ("until it overturns, slides or stalls", DARK_PLUM, ""),
}
_THICK = 0.26  # of a bar, in rows
_FLOOR_NOTE = 0.15  # [deg] room left of a note


def limits_picture(table: pd.DataFrame, title: str) -> bytes:
    """PNG of the table that `compare` gives: one bar an option and event."""
    untils = [until for until in _EVENTS if f"{until}_highest_good_deg" in table]
    with look():
        figure = Figure(figsize=(9.6, 1.9 + 0.5 * len(table)))
        axes = figure.add_subplot()
        rows = _rows(list(table["option"]))
        for place, (_, row) in zip(rows, table.iterrows(), strict=True):
            _draw_option(axes, place, row, untils)
        _dress(axes, rows, list(table["option"]), table, untils)
        figure.suptitle(title, fontweight="bold")
        figure.tight_layout(rect=(0.0, 0.05, 1.0, 0.99))
        footnote(figure, f"{IN_SHORT} Engine: " + str(table["engine"].iloc[0]) + ".")
        return png(figure)


def _rows(names: Sequence[str]) -> list[float]:
    """Where each option stands; a group's name (before the comma) leaves a gap above it."""
    places, place, last = [], 0.0, None
    for name in names:
        group = name.partition(", ")[0]
        place += 1.0 if group == last or last is None else 1.7
        places.append(place)
        last = group
    return places


def _draw_option(axes: Axes, place: float, row: "pd.Series[Any]", untils: Sequence[str]) -> None:
    if not pd.isna(row["problem"]):
        axes.text(
            _FLOOR_NOTE, place, f"not computed: {row['problem'][:70]}", va="center", color=PLUM
        )
        return
    for k, until in enumerate(untils):
        y = place + (k - (len(untils) - 1) / 2.0) * _THICK
        label, face, hatch = _EVENTS[until]
        good = row[f"{until}_highest_good_deg"]
        if isnan(good):
            _mark_none_good(axes, y, row, until)
            continue
        high = _THICK * 0.86
        axes.barh(y, good, high, color=face, hatch=hatch, edgecolor="white", lw=0, label=label)
        bad = row[f"{until}_lowest_bad_deg"]
        if not isnan(bad):
            axes.barh(
                y, bad - good, high, left=good, color="white", edgecolor=DARK_GREY, lw=0.5,
                label="not known",
            )  # fmt: skip
        after = good if isnan(bad) else bad
        axes.text(after + 0.15, y, _ending(row, until), va="center", fontsize=6.5)


def _mark_none_good(axes: Axes, y: float, row: "pd.Series[Any]", until: str) -> None:
    """Where nothing tried was good: no bar, and said why."""
    bands = json.loads(row[f"{until}_bands"])
    lowest = bands[0]["low"]
    event = reason(until, row[f"{until}_verdict_at_limit"])
    where = "at every slope tried" if len(bands) == 1 else "here, not above: no threshold"
    axes.plot(lowest, y, marker="x", color=DARK_GREY, ms=4, mew=1.2)
    axes.text(lowest + 0.2, y, f"{event} {where}", va="center", fontsize=6.5)


def _ending(row: "pd.Series[Any]", until: str) -> str:
    judged = row[f"{until}_verdict_at_limit"]
    if pd.isna(judged):
        return "none found"
    said = "" if judged == "wheel_lifted" else str(judged)
    return (
        said
        if row[f"{until}_is_threshold"]
        else f"{said} (good again higher up: no threshold)".strip()
    )


def _dress(
    axes: Axes,
    rows: Sequence[float],
    names: Sequence[str],
    table: pd.DataFrame,
    untils: Sequence[str],
) -> None:
    """Scales, names and legend."""
    axes.set_yticks(rows, [name.partition(", ")[2] or name for name in names])
    last = None
    for place, name in zip(rows, names, strict=True):
        group, comma, _ = name.partition(", ")
        if comma and group != last:
            axes.text(0.0, place - 0.62, group, fontweight="bold", color=PLUM, va="center")
        last = group
    highest = table[[f"{until}_highest_good_deg" for until in untils]].max(axis=None)
    axes.set_xlim(0.0, 5.0 * ceil((0.0 if isnan(highest) else highest) / 5.0 + 0.4))
    axes.set_ylim(rows[-1] + 0.6, rows[0] - 0.9)
    axes.set_xlabel("side slope [°]")
    axes.grid(axis="y", visible=False)
    ticks = axes.get_xticks()
    upper = axes.secondary_xaxis("top")
    upper.set_xticks(list(ticks), [f"{100 * tan(radians(tick)):.0f} %" for tick in ticks])
    axes.plot([], [], "x", color=DARK_GREY, ms=5, ls="", label="lowest slope tried is bad already")
    handles, labels = axes.get_legend_handles_labels()
    unique = dict(zip(labels, handles, strict=True))
    axes.figure.legend(
        unique.values(), unique, loc="lower center", ncols=2, bbox_to_anchor=(0.5, 0.015)
    )
