"""Kernels that bring vertices to where they are seen from."""

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel

Array = NDArray[np.float64]
Indices = NDArray[np.int32]


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
def look(points: Array, looks: Array, which: int, out: Array) -> None:
    """Points (n, 3) -> right, down, forward of one look of a stack."""
    for i in range(points.shape[0]):
        x = points[i, 0] - looks[which, 3, 0]
        y = points[i, 1] - looks[which, 3, 1]
        z = points[i, 2] - looks[which, 3, 2]
        for k in range(3):
            out[i, k] = looks[which, k, 0] * x + looks[which, k, 1] * y + looks[which, k, 2] * z
