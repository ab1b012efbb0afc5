"""How likely events are: a dot and its interval an event, what is not proved taken in."""

from collections.abc import Mapping, Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.caution import IN_SHORT
from sidehill.files.units import round_to
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, GREY, PALE_PLUM, PLUM
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.run.facts import NOT_ACROSS, NOT_STARTED
from sidehill.strip.words import EVENT_WORDS
from sidehill.sweep.probability import LEVEL, Probability

LOOKS = {  # event -> (ink, marker)
    "hopped": (PALE_PLUM, "v"),
    "lifted": (GREY, "D"),
    "on_stop": (PLUM, "^"),
    "overturned": (DARK_PLUM, "s"),
    NOT_ACROSS: (DARK_GREY, "o"),
    NOT_STARTED: (DARK_GREY, "X"),
}
_ROW, _HEAD, _FOOT, _WIDE = 0.24, 0.8, 1.25, 10.0  # [in]
_APART = 0.8  # rows between options


def percent(share: float, rounding: str) -> str:
    """A share of 1, rounded to its own bad side."""
    return f"{round_to(100.0 * share, 1, 'down' if rounding == 'down' else 'up'):.1f} %"


def in_words(found: Probability) -> str:
    """Counts and interval, what is not proved said."""
    unknown = f", {found.not_started} could not start" if found.not_started else ""
    unknown += f", {found.unproved} not proved" if found.unproved else ""
    interval = f"{percent(found.low, 'down')} to {percent(found.high, 'up')}"
    return f"{found.happened} of {found.draws}{unknown}: {interval}"


def chances_picture(
    rows: Mapping[str, Sequence[Probability]], title: str, kind: Kind = "png"
) -> bytes:
    """Every event of every row (an option, at a place of the grid if there is one)."""
    count = sum(len(found) for found in rows.values()) + _APART * len(rows)
    with look():
        size = (_WIDE, _ROW * count + _HEAD + _FOOT)
        figure = Figure(figsize=size)
        axes = figure.add_subplot()
        place, names = 0.0, []
        for name, events in rows.items():
            names.append((place + (len(events) - 1) / 2.0, name))
            for found in events:
                _draw(axes, place, found)
                place += 1.0
            place += _APART
        axes.set_ylim(place - _APART, -1.0)
        axes.set_yticks([at for at, _ in names], [name for _, name in names], parse_math=False)
        axes.set_xlim(-1.0, 100.0)
        axes.set_xlabel("share of the draws [%]")
        axes.grid(axis="y", visible=False)
        figure.suptitle(title, fontweight="bold", parse_math=False)
        figure.tight_layout(rect=(0.0, 0.65 / size[1], 1.0, 1.0))
        handles, labels = axes.get_legend_handles_labels()
        unique = dict(zip(labels, handles, strict=True))
        figure.legend(
            unique.values(), unique, loc="lower center", ncols=4,
            bbox_to_anchor=(0.5, 0.25 / size[1]), labelcolor=DARK_GREY,
        )  # fmt: skip
        footnote(
            figure,
            "Mark: share, what could not start or is not proved either way (stuck before it, say) "
            f"counted as bad: pale band. Line: {LEVEL:.0%} interval ({_methods(rows)}). By the "
            f"spreads assumed. {IN_SHORT}",
        )
        return image(figure, kind)


def _methods(rows: Mapping[str, Sequence[Probability]]) -> str:
    """By what the intervals are."""
    seen = (part for row in rows.values() for one in row for part in one.method.split("; "))
    return ", ".join(dict.fromkeys(part.removeprefix("upper end ") for part in seen))


def _draw(axes: Axes, place: float, found: Probability) -> None:
    """One row: interval, what is not proved, share, words."""
    ink, mark = LOOKS[found.event]
    low, high = 100.0 * found.low, 100.0 * found.high
    axes.plot([low, high], [place, place], color=ink, lw=1.6, marker="|", ms=7)
    # from what is known to have happened to what is not proved to have been absent
    known, most = 100.0 * found.least, 100.0 * found.most
    axes.plot([known, most], [place, place], color=ink, lw=5.0, alpha=0.45)
    axes.plot(
        most, place, mark, color=ink, ms=6, mec="white", zorder=3, label=EVENT_WORDS[found.event]
    )
    axes.text(101.5, place, in_words(found), va="center", fontsize=7.0)
