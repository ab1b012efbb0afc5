"""Liquid ballast in a tyre: how much goes in, and where it lies."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sidehill.machine.file import Tyre

# Room inside a tyre over that of a plain ring from rim to tread, full width: mean of the
# eight sizes of a published ballast chart (they scatter from 0.57 to 0.65).
ROOM_OF_RING = 0.62
RIM_OF_DIAMETER = 0.56  # rim over tyre diameter where the file gives none
_STRIPS = 2000


@dataclass(frozen=True)
class Pool:
    """Liquid at rest in a ring-shaped tyre, per kilogram and about the axle centre."""

    drop: float  # [m] centroid below the axle centre
    inertia: NDArray[np.float64]  # (3, 3) [m^2] about the centroid


def rim_radius(tyre: Tyre) -> float:
    """[m] given, or estimated from the tyre's diameter."""
    if tyre.rim_diameter is not None:
        return tyre.rim_diameter / 2.0
    return RIM_OF_DIAMETER * tyre.radius


def volume(tyre: Tyre) -> float:
    """[m^3] inside the tyre, given or estimated from its dimensions."""
    if tyre.volume is not None:
        return tyre.volume
    area = np.pi * (tyre.radius**2 - rim_radius(tyre) ** 2)
    return float(ROOM_OF_RING * area * tyre.width)


def pool(fill: float, outer: float, inner: float, width: float) -> Pool:
    """Where the liquid lies: a ring cut by a level, in horizontal strips.

    Args:
        fill: fraction of the ring's area, over 0 to 1.
        outer, inner: radii [m] of tyre and rim.
        width: [m] of the tyre.
    """
    edges = np.linspace(-outer, outer, _STRIPS + 1)
    height = (edges[1:] + edges[:-1]) / 2.0
    out = np.sqrt(np.maximum(outer**2 - height**2, 0.0))
    rim = np.sqrt(np.maximum(inner**2 - height**2, 0.0))
    area = out - rim
    wet = np.clip((fill * area.sum() - (area.cumsum() - area)) / area, 0.0, 1.0) * area
    share = wet / wet.sum()
    centroid = float(share @ height)
    # a strip from rim to tread, both sides: mean of x^2 = (out^2 + out rim + rim^2) / 3
    x2 = float(share @ (out**2 + out * rim + rim**2)) / 3.0
    y2 = width**2 / 12.0
    z2 = float(share @ height**2) - centroid**2 + (edges[1] - edges[0]) ** 2 / 12.0
    return Pool(-centroid, np.diag([y2 + z2, x2 + z2, x2 + y2]))
