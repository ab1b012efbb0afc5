"""What a spread result is due to: Sobol indices as bars with their intervals, a pane a result."""

from collections.abc import Sequence
from textwrap import fill

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch

from sidehill.caution import IN_SHORT
from sidehill.picture.colours import DARK_GREY, DARK_PLUM, PALE_PLUM, PLUM
from sidehill.picture.quantity import quantity
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.sweep.sensitivity import LEVEL, Index, Sensitivity
from sidehill.sweep.shapley import Effect, Shapley

Found = Sensitivity | Shapley | str  # or why there are none

_BARS = {  # order -> (label, face, hatch)
    "total": ("with all that it does together with others (total order)", DARK_PLUM, ""),
    "first": ("by this alone (first order)", PALE_PLUM, "////"),
}
_EFFECT = {"share": ("its part, with what fields do together shared out (Shapley)", DARK_PLUM, "")}
_SAID = 3  # fields in words
_LETTERS = 40  # in a line of why there are no bars
_THICK = 0.36
_WIDE, _ROW, _HEAD, _FOOT, _NAMES = 3.5, 0.42, 0.85, 1.1, 2.3  # [in]


def shares_picture(panes: dict[tuple[str, str], Found], title: str, kind: Kind = "png") -> bytes:
    """Bars by result and option.

    Args:
        panes: (option, result) -> its indices, or why there are none. Options are rows of panes.
    """
    options = list(dict.fromkeys(option for option, _ in panes))
    wanted = list(dict.fromkeys(of for _, of in panes))
    known = [found for found in panes.values() if not isinstance(found, str)]
    fields = [part.field for part in parts_of(known[0])] if known else []
    bars = _EFFECT if known and isinstance(known[0], Shapley) else _BARS
    with look():
        high = _ROW * max(len(fields), 2) + _HEAD
        size = (_WIDE * len(wanted) + _NAMES, high * len(options) + _FOOT)
        figure = Figure(figsize=size)
        spread = figure.subplots(
            len(options), len(wanted), squeeze=False, sharex=True, sharey=bool(known)
        )
        for row, option in zip(spread, options, strict=True):
            for axes, of in zip(row, wanted, strict=True):
                axes.set_title(f"{option}\n{quantity(of).words}", fontsize=8.5, parse_math=False)
                _draw(axes, panes[option, of])
        for axes in spread[-1]:
            axes.set_xlabel("share of the variance")
        spread[0, 0].set_xlim(-0.25, 1.15)
        figure.suptitle(title, fontweight="bold", parse_math=False)
        figure.tight_layout(rect=(0.0, 0.6 / size[1], 1.0, 1.0))
        figure.legend(
            handles=[
                Patch(facecolor=face, hatch=hatch, edgecolor="white", label=words)
                for words, face, hatch in reversed(bars.values())
            ],
            loc="lower center", ncols=2, bbox_to_anchor=(0.5, 0.22 / size[1]),
        )  # fmt: skip
        footnote(figure, f"{_drawn(known)}{IN_SHORT}")
        return image(figure, kind)


def parts_of(found: Sensitivity | Shapley) -> Sequence[Index | Effect]:
    """A field's indices, or its effect, each."""
    return found.effects if isinstance(found, Shapley) else found.indices


def _ends(part: Index | Effect, order: str) -> tuple[float, float, float]:
    """A share and the ends of its interval."""
    before = "" if order == "share" else f"{order}_"
    return getattr(part, order), getattr(part, f"{before}low"), getattr(part, f"{before}high")


def in_words(found: Sensitivity | Shapley) -> str:
    """The fields that count most, and how many draws that was computed of."""
    name, order = ("Shapley", "share") if isinstance(found, Shapley) else ("total order", "total")
    every = parts_of(found)
    told = sorted(
        ((part.field, *_ends(part, order)) for part in every if part.is_told), key=lambda x: -x[1]
    )
    said = [
        f"{quantity(field).words} {share:.2f} ({low:.2f} to {high:.2f})"
        for field, share, low, high in told[:_SAID]
    ]
    if len(told) < len(every):
        said.append(f"{len(every) - len(told)} not told by so few draws")
    left = f"; {found.unknown} of {found.sets} sets not known" if found.unknown else ""
    left += f"; in {found.apart} of {found.sets} it could not start" if found.apart else ""
    return f"{name} {', '.join(said)}; from {found.used} sets of draws{left}"


def _drawn(known: Sequence[Sensitivity | Shapley]) -> str:
    """How sure it is, in words."""
    if not known:
        return ""
    unknown, apart = (max(getattr(one, name) for one in known) for name in ("unknown", "apart"))
    said = f"Lines: {LEVEL:.0%} intervals (bootstrap); ?: too wide to tell anything. "
    if unknown:
        said += f"Up to {unknown} of {known[0].sets} sets of draws left out: not known. "
    if apart:
        said += f"Up to {apart} could not start: apart, an outcome of their own. "
    return said


def _draw(axes: Axes, found: Found) -> None:
    axes.grid(axis="y", visible=False)
    if isinstance(found, str):
        axes.text(
            0.5, 0.5, fill(found, _LETTERS), transform=axes.transAxes, ha="center", va="center",
            color=PLUM, fontsize=7.5,
        )  # fmt: skip
        return
    every = parts_of(found)
    bars = _EFFECT if isinstance(found, Shapley) else _BARS
    shifts = (0.0,) if isinstance(found, Shapley) else (0.5, -0.5)
    for place, index in enumerate(every):
        for shift, (order, (_, face, hatch)) in zip(shifts, bars.items(), strict=True):
            at = place + shift * _THICK
            value, *ends = _ends(index, order)
            if index.is_told:
                axes.barh(at, value, _THICK, color=face, hatch=hatch, edgecolor="white", lw=0.0)
            axes.plot(ends, [at, at], color="white", lw=3.4)  # seen on a dark bar as well
            axes.plot(ends, [at, at], marker="|", ms=6, color=DARK_GREY, lw=1.4, mew=1.4)
        if not index.is_told:
            axes.text(1.11, place, "?", ha="right", va="center", fontweight="bold", color=PLUM)
    axes.set_yticks(range(len(every)), [quantity(index.field).words for index in every])
    axes.set_ylim(len(every) - 0.5, -0.6)
    axes.axvline(0.0, color=DARK_GREY, lw=0.8)
