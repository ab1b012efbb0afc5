"""How a cell of a map is filled and what is written in it."""

from collections.abc import Iterable
from math import isnan
from typing import Any

from matplotlib.colors import LinearSegmentedColormap, Normalize

from sidehill.files.units import round_to
from sidehill.picture.cells import Cell
from sidehill.picture.colours import DARK_GREY
from sidehill.picture.faces import UNKNOWN_FACE, Face, face
from sidehill.picture.quantity import quantity
from sidehill.sweep.measure import STABILITY, is_outcome, low_is_bad

# the worse the darker, as facts are
RAMP = LinearSegmentedColormap.from_list("worse", ["#f6f1f4", "#c3a3b9", "#8a5f7d", "#4d1f43"])
_DARK = 0.45  # of the ramp: from here on words on it are white
NOWHERE = {"none good": "none", "backwards": "<"}  # a limit that is none, and what is written
NOWHERE_FACE = Face("", "#1c0919", "", "white")  # beyond whatever goes over
WRITTEN = {"unproved": " (?)", "alternates": " (!)", "open": " (+)"}  # after a limit


def class_of(cell: Cell, of: str) -> Face | None:
    """The class that a cell is drawn as; None: its number on the ramp.

    A machine that was stuck before the stone rolled little: its number must not look good.
    """
    if of == STABILITY:
        return face(cell.stability, cell.arrival)
    if is_outcome(of) and not cell.proves:
        return face(cell.stability, cell.arrival)
    if cell.answer in NOWHERE:
        return NOWHERE_FACE
    return UNKNOWN_FACE if isnan(cell.value) else None


def scale(cells: Iterable[Cell], of: str) -> Normalize:
    """Of the numbers that are on the ramp: from nothing, but limits from their least."""
    values = [cell.value for cell in cells if class_of(cell, of) is None]
    least = min(values, default=0.0)
    return Normalize(min(0.0, least) if is_outcome(of) else least, max(values, default=1.0))


def fill(cell: Cell, of: str, norm: Normalize) -> tuple[dict[str, Any], str]:
    """A patch's style, and the ink of words on it."""
    known = class_of(cell, of)
    if known is not None:
        return known.style, known.ink
    where = float(norm(cell.value))
    where = 1.0 - where if low_is_bad(of) else where
    ink = "white" if where > _DARK else DARK_GREY
    return {"facecolor": RAMP(where), "hatch": "", "edgecolor": ink, "lw": 0.0}, ink


def words(cell: Cell, of: str) -> str:
    """A cell's number, rounded to the bad side; where a class is drawn there is none."""
    if class_of(cell, of) is not None:
        return NOWHERE.get(cell.answer, "")
    shown = quantity(of)
    value = float(shown.shown(cell.value))
    decimals = 0 if abs(value) >= 100.0 else 1 if shown.unit else 2
    rounded = round_to(value, decimals, "down" if low_is_bad(of) else "up")
    return f"{rounded:.{decimals}f}{WRITTEN.get(cell.answer, '')}"
