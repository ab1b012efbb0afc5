"""The shapes that a feature of the ground can have: one row makes one."""

from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING, Literal


@dataclass(frozen=True)
class Shape:
    """What is known of a shape."""

    words: str  # as a person calls it
    profile: str  # along the path, a key of `kernels.height.PROFILES`
    needs: tuple[str, ...]  # sizes that a file must give
    # height over length at most, so that a wheel can follow it; inf: steep by its nature
    steepest: float
    sinks: bool = False  # into the ground; its height is a depth
    edge: float | None = None  # [m] over which its sides rise; None: a share of its width
    gives: bool = False  # way, under the first rear wheel that stands on it, over its time


SHAPES = {
    "bump": Shape("stone, tuft or hump", "hump", ("length", "width"), 1.0),
    "hole": Shape("hole", "hump", ("length", "width"), 1.0, sinks=True),
    "ridge": Shape("ridge", "hump", ("length",), 1.0),
    "log": Shape("log", "half ellipse", (), 0.5),  # no more than half round
    "kerb": Shape("kerb", "flat top", ("length",), inf, edge=0.05),
    "washout": Shape(
        "washout", "flat top", ("length", "width", "time"), inf, sinks=True, edge=0.05, gives=True
    ),
}

if TYPE_CHECKING:
    ShapeName = str
else:
    ShapeName = Literal[tuple(SHAPES)]
