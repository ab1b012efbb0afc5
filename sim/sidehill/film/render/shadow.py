"""Shadow maps: drawn from the sun and from the sky, looked up per pixel."""

from math import floor

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.light import (
    FIRST_RAY,
    MIDDLE,
    NEARNESS,
    RAY_REACH,
    RAY_SIDE,
    RAYS,
    SUN,
    SUN_SIDE,
)
from sidehill.film.render.project import Corners, onto_map, seen_at
from sidehill.film.render.raster import draw_triangles

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Nearness = NDArray[np.float32]
Vector = tuple[float, float, float]

SUN_BIAS, RAY_BIAS = 0.012, 0.03  # [m] by which a surface does not shade itself
LIFT = 0.012  # [m] along the normal, for the same reason
FARTHEST = -1e9  # [m] nearness where nothing stands
SLACK = 0.15  # share of the sky still counted past square to it


@kernel
def draw_maps(
    first: int, points: Array, looks: Array, triangles: Indices,
    places: Corners, nearness: Array, maps: Nearness,
) -> None:  # fmt: skip
    """Draw triangles (m, 3) over points (n, 3) into maps (k, side, side) of looks from `first` on.

    Scratch: places (n, 2), nearness (n,).
    """
    nameless = triangles[:0, 0]
    maps[:] = FARTHEST
    for k in range(maps.shape[0]):
        onto_map(points, looks, first + k, places, nearness)
        draw_triangles(triangles, nameless, places, nearness, triangles, maps[k])


@kernel
def sunlit(looks: Array, sun_map: Nearness, at: Vector, n: Vector) -> float:
    """Share of the sun that reaches a point with normal n; 1 outside the map."""
    x, y, z = at[0] + LIFT * n[0], at[1] + LIFT * n[1], at[2] + LIFT * n[2]
    u, v = seen_at(looks, SUN, 0, x, y, z) - 1.0, seen_at(looks, SUN, 1, x, y, z) - 1.0
    i, j = floor(u), floor(v)
    if i < 0 or j < 0 or i > SUN_SIDE - 3 or j > SUN_SIDE - 3:
        return 1.0
    s, t = u - i, v - j
    level = SUN_BIAS + seen_at(looks, SUN, NEARNESS, x, y, z)
    total = 0.0
    for row in range(3):
        across = 0.0
        if sun_map[0, j + row, i] <= level:
            across += 1.0 - s
        if sun_map[0, j + row, i + 1] <= level:
            across += 1.0
        if sun_map[0, j + row, i + 2] <= level:
            across += s
        total += across * (1.0 - t if row == 0 else (1.0 if row == 1 else t))
    return 0.25 * total


@kernel
def past(ray_maps: Nearness, k: int, u: float, v: float, level: float) -> float:
    """Share of four neighbouring samples that let a point at `level` through; 1 off the map."""
    i, j = floor(u), floor(v)
    if i < 0 or j < 0 or i > RAY_SIDE - 2 or j > RAY_SIDE - 2:
        return 1.0
    s, t = u - i, v - j
    through = 0.0
    if ray_maps[k, j, i] <= level:
        through += (1.0 - s) * (1.0 - t)
    if ray_maps[k, j, i + 1] <= level:
        through += s * (1.0 - t)
    if ray_maps[k, j + 1, i] <= level:
        through += (1.0 - s) * t
    if ray_maps[k, j + 1, i + 1] <= level:
        through += s * t
    return through


@kernel
def open_sky(looks: Array, ray_maps: Nearness, at: Vector, n: Vector) -> float:
    """Share of the sky that a point with normal n sees, by a few directions."""
    x, y, z = at
    px, py, pz = (
        x - looks[FIRST_RAY, MIDDLE, 0],
        y - looks[FIRST_RAY, MIDDLE, 1],
        z - looks[FIRST_RAY, MIDDLE, 2],
    )
    if px * px + py * py + pz * pz > 0.9 * RAY_REACH * RAY_REACH:
        return 1.0
    seen, whole = 0.0, 0.0
    for k in range(FIRST_RAY, FIRST_RAY + RAYS):
        towards = (
            n[0] * looks[k, NEARNESS, 0]
            + n[1] * looks[k, NEARNESS, 1]
            + n[2] * looks[k, NEARNESS, 2]
        )
        weight = SLACK + towards
        if weight > 0.0:
            u, v = seen_at(looks, k, 0, x, y, z) - 0.5, seen_at(looks, k, 1, x, y, z) - 0.5
            level = RAY_BIAS + seen_at(looks, k, NEARNESS, x, y, z)
            whole += weight
            seen += weight * past(ray_maps, k - FIRST_RAY, u, v, level)
    return seen / whole if whole > 0.0 else 0.6
