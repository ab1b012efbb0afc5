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
    start, last = first_texel(side, edge), edge - 1
    x, y = u * edge - 0.5, v * edge - 0.5
    fx, fy = floor(x), floor(y)
    s, t = x - fx, y - fy
    x0, x1 = fx & last, (fx + 1) & last
    i, j = start + (fy & last) * edge, start + ((fy + 1) & last) * edge
    # unsigned, so that nothing is asked about counting from the end
    a, b, c, d = np.uint32(i + x0), np.uint32(i + x1), np.uint32(j + x0), np.uint32(j + x1)
    return (
        mixed(texels[a, 0], texels[b, 0], texels[c, 0], texels[d, 0], s, t),
        mixed(texels[a, 1], texels[b, 1], texels[c, 1], texels[d, 1], s, t),
    )


@kernel
def mixed(a: float, b: float, c: float, d: float, s: float, t: float) -> float:
    """Between the corners a, b and, below them, c, d."""
    above, below = a + s * (b - a), c + s * (d - c)
    return above + t * (below - above)
