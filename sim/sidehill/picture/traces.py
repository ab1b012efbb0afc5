"""Roll of chosen runs over the path that they drove."""

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.caution import IN_SHORT
from sidehill.picture.colours import DARK_GREY, PALE_GREY
from sidehill.picture.curves import look_of
from sidehill.picture.history import TOP_ROLL, keep_to
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.run.record import Record
from sidehill.strip.words import facts_words

_SIZE, _LINE = (9.6, 4.2), 0.2  # [in] of the picture, of a line of its legend
# markers of ends that are not across
_ENDS = dict(over="^", slid="v", stuck="X", leaning="D", cut="P", not_started="s")


def traces_picture(records: Mapping[str, Record], title: str, kind: Kind = "png") -> bytes:
    """A line a record; one of which nothing is known has its name only."""
    with look():
        figure = Figure(figsize=(_SIZE[0], _SIZE[1] + _LINE * len(records)))
        axes = figure.add_subplot()
        _shade_features(axes, records)
        for k, (name, record) in enumerate(records.items()):
            _draw(axes, name, record, *look_of(k, len(records)))
        axes.axhline(0.0, color=DARK_GREY, lw=0.8)
        keep_to(axes, TOP_ROLL)
        axes.set_xlabel("path of the rear axle [m]")
        axes.set_ylabel("roll to the slope [°]")
        figure.suptitle(title, fontweight="bold", parse_math=False)
        high = figure.get_size_inches()[1]
        foot = (0.5 + _LINE * (len(records) + 1)) / high
        figure.tight_layout(rect=(0.0, foot, 1.0, 1.0))
        figure.legend(loc="lower center", bbox_to_anchor=(0.5, 0.2 / high), handlelength=4.0)
        footnote(
            figure, f"Roll toward the downhill side. A mark: it did not get across. {IN_SHORT}"
        )
        return image(figure, kind)


def _draw(axes: Axes, name: str, record: Record, ink: object, dashes: object) -> None:
    outcome = record.outcome
    label = f"{name}: {facts_words(outcome.stability, outcome.progress)}"
    if outcome.stability is None or not len(record.columns["t_s"]):
        axes.plot([], [], "x", color=ink, label=label)
        return
    path, roll = record.columns["path_m"], record.columns["roll_slope_deg"]
    axes.plot(path, roll, color=ink, ls=dashes, lw=1.6, label=label)
    if outcome.progress in _ENDS:
        gone = np.abs(roll) > TOP_ROLL
        last = int(np.argmax(gone)) if gone.any() else len(roll) - 1
        height = float(np.clip(roll[last], -0.97 * TOP_ROLL, 0.97 * TOP_ROLL))
        mark = _ENDS[outcome.progress]
        axes.plot(path[last], height, mark, color=ink, ms=8, mec="white", zorder=4)


def _shade_features(axes: Axes, records: Mapping[str, Record]) -> None:
    """Where an axle is over a feature, once for all records that have it there."""
    seen = set()
    for record in records.values():
        case = record.meta["case"]
        wheelbase = case["machine"]["body"]["wheelbase"]
        for feature in case["scenario"]["feature"]:
            half = 0.5 * (feature["length"] or 2.0 * feature["height"])
            for axle, ahead in (("front", wheelbase), ("rear", 0.0)):
                middle = feature["at"] - ahead
                seen.add((axle, feature["shape"], middle - half, middle + half))
    for axle, shape, start, end in sorted(seen):
        hatch = "////" if axle == "front" else ""
        axes.axvspan(
            start, end, facecolor="none" if hatch else PALE_GREY, edgecolor=PALE_GREY, hatch=hatch,
            lw=0, zorder=0, label=f"{axle} axle at the {shape}",
        )  # fmt: skip
