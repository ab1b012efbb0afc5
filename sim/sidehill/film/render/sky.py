"""The sky, the far hills and the haze between."""

from functools import lru_cache
from math import atan2, pi, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel

Array = NDArray[np.float64]
Colour = tuple[float, float, float]

HAZE = (0.86, 0.93, 1.0)  # what everything far away fades to
ZENITH = (0.12, 0.36, 0.86)
CLEAR, THINNING = 8.0, 600.0  # [m] without haze; [m] over which it takes half of the rest
HIGHEST = 0.06  # sine of the elevation over which there are no hills
BEARINGS = 4096  # at which the hills' heights are kept: 28 for every tree top


@kernel
def far_hill(bearing: float) -> float:
    """Elevation of the far hills, as a sine of the angle above the horizon."""
    return 0.030 + 0.012 * sin(3.0 * bearing + 0.4) + 0.007 * sin(7.0 * bearing + 1.3)


@kernel
def near_hill(bearing: float) -> float:
    """The same of the nearer, wooded ones."""
    wood = 0.0015 * sin(61.0 * bearing) + 0.001 * sin(143.0 * bearing + 0.5)
    return 0.013 + 0.006 * sin(5.0 * bearing + 2.0) + 0.004 * sin(11.0 * bearing) + wood


@kernel
def dome(z: float) -> Colour:
    """The sky at a sine of the elevation."""
    s = min(sqrt(max(z, 0.0)) * 1.15, 1.0)
    return (
        HAZE[0] + s * (ZENITH[0] - HAZE[0]),
        HAZE[1] + s * (ZENITH[1] - HAZE[1]),
        HAZE[2] + s * (ZENITH[2] - HAZE[2]),
    )


@lru_cache(maxsize=1)
def skyline() -> Array:
    """(BEARINGS + 1, 2) the far hills and the near ones all the way round."""
    table = np.empty((BEARINGS + 1, 2))
    _draw_skyline(table)
    return table


@kernel
def _draw_skyline(table: Array) -> None:
    for i in range(table.shape[0]):
        bearing = 2 * pi * i / BEARINGS
        table[i, 0], table[i, 1] = far_hill(bearing), near_hill(bearing)


@kernel
def backdrop(hills: Array, x: float, y: float, z: float) -> Colour:
    """Colour seen along a unit direction, z up, where nothing stands in the way."""
    if z > HIGHEST:
        return dome(z)
    place = (atan2(y, x) / (2 * pi) + 1.0) % 1.0 * BEARINGS
    i = int(place)
    s = place - i
    if z < hills[i, 1] + s * (hills[i + 1, 1] - hills[i, 1]):
        return 0.17, 0.27, 0.20
    if z < hills[i, 0] + s * (hills[i + 1, 0] - hills[i, 0]):
        return 0.38, 0.50, 0.54
    return dome(z)


@kernel
def haze(distance: float) -> float:
    """Share of a colour that haze takes over a distance [m]."""
    beyond = max(distance - CLEAR, 0.0)
    return beyond / (beyond + THINNING)
