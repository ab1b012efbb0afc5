"""How verdicts are drawn: the worse the darker, told apart in grey too; unknown is hatched."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from matplotlib.patches import Patch

from sidehill.picture.style import DARK_GREY
from sidehill.run.outcome import VERDICTS
from sidehill.sweep.probability import is_known


@dataclass(frozen=True)
class Face:
    """How one class of results fills its place."""

    words: str
    fill: str
    hatch: str = ""
    ink: str = DARK_GREY  # of hatch and of words on it

    @property
    def style(self) -> dict[str, Any]:
        """As a patch takes it."""
        return {"facecolor": self.fill, "hatch": self.hatch, "edgecolor": self.ink, "lw": 0.0}


# from good to bad; tests/picture/test_verdicts.py measures that each is darker than the one before
FACES = {
    "crossed": Face("crossed", "#f4eff2"),
    "wheel_lifted": Face("a wheel lifted", "#d3bdcd"),
    "on_stop": Face("left on its axle stop", "#ab8da4", "---"),
    "stalled": Face("stalled", "#84767f", "...", "white"),
    "slid": Face("slid", "#64485d", "///", "white"),
    "overturned": Face("overturned", "#2f0f29", "", "white"),
}
UNKNOWN_FACE = Face("not known: failed, not settled, missing", "white", "xxxx")
# the same over what is known of a place: no fill of its own
UNKNOWN_OVER: dict[str, Any] = {
    "facecolor": "none",
    "hatch": "xxxx",
    "edgecolor": DARK_GREY,
    "lw": 0.0,
}


def face(verdict: object) -> Face:
    """The face of a verdict; of what is none, and of the unknown ones, the hatched one."""
    return FACES[str(verdict)] if is_known(verdict) else UNKNOWN_FACE


def worst(verdicts: Iterable[object]) -> str | None:
    """The worst verdict that is known; None if none is."""
    known = [str(verdict) for verdict in verdicts if is_known(verdict)]
    return min(known, key=VERDICTS.index, default=None)


def keys(drawn: Iterable[Face | None]) -> list[Patch]:
    """Legend entries of the classes that were drawn, from good to bad, the unknown one last."""
    seen = list(drawn)
    shown = [one for one in (*FACES.values(), UNKNOWN_FACE) if one in seen]
    return [
        Patch(**one.style | {"lw": 0.5 if one.ink == DARK_GREY else 0.0, "label": one.words})
        for one in shown
    ]
