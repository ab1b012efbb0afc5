"""How facts are drawn: the worse the darker, told apart in grey too; not across: hatched."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from sidehill.picture.colours import DARK_GREY, GREY
from sidehill.run.facts import ARRIVAL, STABILITY

if TYPE_CHECKING:
    from matplotlib.patches import Patch


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


# from good to bad; tests/picture/test_faces.py measures that each is darker than the one before
_FILLS = {
    "planted": ("#f4eff2", GREY),
    "hopped": ("#d6c1d0", DARK_GREY),
    "lifted": ("#ae8fa7", DARK_GREY),
    "on_stop": ("#7b5672", "white"),
    "overturned": ("#2b0d26", "white"),
}
FACES = {name: Face(STABILITY[name], fill, "", ink) for name, (fill, ink) in _FILLS.items()}
HATCHES = {"arrived": "", "not_across": "////", "not_started": "oo"}
UNKNOWN_FACE = Face("not known: failed or missing", "white", "xxxx")
# the same over what is known of a place: no fill of its own
UNKNOWN_OVER: dict[str, Any] = {
    "facecolor": "none",
    "hatch": "xxxx",
    "edgecolor": DARK_GREY,
    "lw": 0.0,
}


def face(stability: str | None, arrival: str | None) -> Face:
    """The face of a result; of what is not known the crossed one.

    Args:
        stability, arrival: as of `facts.worst_seen`.
    """
    if stability is None or arrival is None:
        return UNKNOWN_FACE
    known = FACES[stability]
    if stability == "overturned" and arrival == "not_across":
        return known  # that it went over says it all
    return replace(known, hatch=HATCHES[arrival])


def keys(drawn: Iterable[Face | None]) -> "list[Patch]":
    """Legend entries of what was drawn: stability from good to bad, hatches, the unknown last."""
    from matplotlib.patches import Patch  # colours are asked for without any picture too

    seen = [one for one in drawn if one is not None]
    entries = [
        Patch(**one.style | {"lw": 0.5, "edgecolor": DARK_GREY, "label": one.words})
        for one in FACES.values()
        if any(one.fill == other.fill for other in seen)
    ]
    hatched = Face("", "white", ink=GREY)
    for arrival, hatch in HATCHES.items():
        if hatch and any(hatch == one.hatch for one in seen):
            style = replace(hatched, hatch=hatch).style
            entries.append(Patch(**style | {"lw": 0.5, "label": ARRIVAL[arrival]}))
    if UNKNOWN_FACE in seen:
        entries.append(Patch(**UNKNOWN_FACE.style | {"label": UNKNOWN_FACE.words}))
    return entries
