"""A square picture of two channels that tiles, at every scale: built once, looked up per pixel."""

from math import floor

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel

Texels = NDArray[np.float32]


def build_levels(picture: Texels) -> Texels:
    """(n, 2) a picture (side, side, 2), side a power of two, and its halvings down to one texel.

    A level of edge s begins at row `first_texel(side, s)`.
    """
    levels = [picture]
    while levels[-1].shape[0] > 1:
        fine = levels[-1]
        quarters = fine[0::2, 0::2] + fine[1::2, 0::2] + fine[0::2, 1::2] + fine[1::2, 1::2]
        levels.append((quarters / 4).astype(np.float32))
    return np.ascontiguousarray(np.concatenate([level.reshape(-1, 2) for level in levels]))


@kernel
def first_texel(side: int, edge: int) -> int:
    """Row at which the level of that edge begins: the sum of all finer levels' sizes."""
    return 4 * (side * side - edge * edge) // 3


@kernel
def look_up(texels: Texels, side: int, u: float, v: float, level: int) -> tuple[float, float]:
    """Both channels at (u, v) in tiles of one level, 0 the finest, between its four texels."""
    edge = max(side >> level, 1)
    start = first_texel(side, edge)
    x, y = u * edge - 0.5, v * edge - 0.5
    fx, fy = floor(x), floor(y)
    s, t = x - fx, y - fy
    x0, y0 = fx & (edge - 1), fy & (edge - 1)
    x1 = (x0 + 1) & (edge - 1)
    i, j = start + y0 * edge, start + ((y0 + 1) & (edge - 1)) * edge
    first = (1.0 - t) * ((1.0 - s) * texels[i + x0, 0] + s * texels[i + x1, 0]) + t * (
        (1.0 - s) * texels[j + x0, 0] + s * texels[j + x1, 0]
    )
    second = (1.0 - t) * ((1.0 - s) * texels[i + x0, 1] + s * texels[i + x1, 1]) + t * (
        (1.0 - s) * texels[j + x0, 1] + s * texels[j + x1, 1]
    )
    return first, second
