"""The look of every picture, and the one way to PNG or SVG bytes."""

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Literal, get_args

import matplotlib
import matplotlib.style
from matplotlib.figure import Figure

from sidehill.picture.colours import DARK_GREY, GREY, PALE_GREY

Kind = Literal["png", "svg"]
KINDS: dict[str, Kind] = {f".{kind}": kind for kind in get_args(Kind)}  # by ending

_LOOK = {
    "font.family": "DejaVu Sans",
    "font.size": 9.0,
    "axes.edgecolor": GREY,
    "axes.labelcolor": DARK_GREY,
    "axes.titlesize": 10.0,
    "axes.titleweight": "bold",
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": True,
    "axes.axisbelow": True,
    "grid.color": PALE_GREY,
    "grid.linewidth": 0.6,
    "hatch.linewidth": 0.6,
    "legend.frameon": False,
    "legend.fontsize": 8.0,
    "svg.hashsalt": "sidehill",  # of the ids in an SVG: the same bytes on every run
    "text.color": DARK_GREY,
    "text.parse_math": False,  # a "$" in a name is a dollar
    "xtick.color": DARK_GREY,
    "ytick.color": DARK_GREY,
}
_DPI = 110


@contextmanager
def look() -> Iterator[None]:
    """Draw in Sidehill's look, whatever the user's own settings are."""
    with matplotlib.style.context(["default", _LOOK]):
        yield


def png(figure: Figure) -> bytes:
    """The figure as PNG: the same bytes on every run."""
    found = BytesIO()
    figure.savefig(found, format="png", dpi=_DPI, metadata={"Software": None})
    return found.getvalue()


def svg(figure: Figure) -> bytes:
    """The figure as SVG, drawn in Sidehill's look: the same bytes on every run."""
    found = BytesIO()
    figure.savefig(found, format="svg", metadata={"Date": None, "Creator": None})
    return found.getvalue()


def image(figure: Figure, kind: Kind) -> bytes:
    """The figure as a file of that kind."""
    return png(figure) if kind == "png" else svg(figure)


def footnote(figure: Figure, text: str) -> None:
    """A line of small print along the bottom."""
    figure.text(0.01, 0.006, text, fontsize=7.0, color=GREY, ha="left", va="bottom", wrap=True)
