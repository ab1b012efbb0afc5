"""Kernels that bring vertices to where they are seen from."""

from math import floor, nan

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.raster import SNAP

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Corners = NDArray[np.int64]

NEAR = 0.05  # [m] what is nearer to the eye is cut away


@kernel
def place(
    points: Array, normals: Array, link_of: Indices, turns: Array, places: Array,
    out_points: Array, out_normals: Array,
) -> None:  # fmt: skip
    """Points and normals (n, 3) of links -> level frame; turns (L, 3, 3), places (L, 3)."""
    for i in range(points.shape[0]):
        link = link_of[i]
        x, y, z = points[i, 0], points[i, 1], points[i, 2]
        nx, ny, nz = normals[i, 0], normals[i, 1], normals[i, 2]
        for k in range(3):
            a, b, c = turns[link, k, 0], turns[link, k, 1], turns[link, k, 2]
            out_points[i, k] = a * x + b * y + c * z + places[link, k]
            out_normals[i, k] = a * nx + b * ny + c * nz


@kernel
def seen_at(looks: Array, which: int, row: int, x: float, y: float, z: float) -> float:
    """A point as a row of a look sees it: see `light`."""
    return float(
        looks[which, row, 0] * x
        + looks[which, row, 1] * y
        + looks[which, row, 2] * z
        + looks[which, row, 3]
    )


@kernel
def snapped(sample: float) -> int:
    """A place on the screen [samples] in whole steps of a sample."""
    return floor(sample * SNAP + 0.5)


@kernel
def through_eye(
    points: Array, looks: Array, focal: float, mx: float, my: float,
    seen: Array, places: Corners, nearness: Array,
) -> None:  # fmt: skip
    """Points (n, 3) as the camera sees them, and on its picture.

    Args:
        focal: [samples] distance of the picture; mx, my: [samples] its middle.
        seen: (n, 3) right, down, ahead [m]; places: (n, 2) [steps of a sample].
        nearness: (n,) [1/m] one over what is ahead; NaN for what is nearer than `NEAR`.
    """
    for i in range(points.shape[0]):
        x, y, z = points[i, 0], points[i, 1], points[i, 2]
        right, down = seen_at(looks, 0, 0, x, y, z), seen_at(looks, 0, 1, x, y, z)
        ahead = seen_at(looks, 0, 2, x, y, z)
        seen[i, 0], seen[i, 1], seen[i, 2] = right, down, ahead
        if ahead < NEAR:
            nearness[i] = nan
            continue
        one = 1.0 / ahead
        nearness[i] = one
        places[i, 0] = snapped(mx + focal * one * right)
        places[i, 1] = snapped(my + focal * one * down)


@kernel
def onto_map(points: Array, looks: Array, which: int, places: Corners, nearness: Array) -> None:
    """Points (n, 3) on the map of the sun or a ray."""
    for i in range(points.shape[0]):
        x, y, z = points[i, 0], points[i, 1], points[i, 2]
        places[i, 0] = snapped(seen_at(looks, which, 0, x, y, z))
        places[i, 1] = snapped(seen_at(looks, which, 1, x, y, z))
        nearness[i] = seen_at(looks, which, 2, x, y, z)
