"""Shadow maps: drawn from the sun and from the sky, looked up per pixel."""

from math import floor

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.light import (
    FIRST_RAY,
    RAY_REACH,
    RAY_SIDE,
    RAYS,
    SUN,
    SUN_REACH,
    SUN_SIDE,
)
from sidehill.film.render.project import look
from sidehill.film.render.raster import parallel

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Nearness = NDArray[np.float32]

SUN_BIAS, RAY_BIAS = 0.012, 0.03  # [m] by which a surface does not shade itself
SUN_SCALE, RAY_SCALE = SUN_SIDE / (2 * SUN_REACH), RAY_SIDE / (2 * RAY_REACH)  # samples a metre
LIFT = 0.012  # [m] along the normal, for the same reason
FARTHEST = -1e9  # [m] nearness where nothing stands
SLACK = 0.15  # share of the sky still counted past square to it


@kernel
def draw_shadows(
    looks: Array, points: Array, triangles: Indices, bulky: Indices, seen: Array,
    ids: Indices, sun_map: Nearness, ray_maps: Nearness,
) -> None:  # fmt: skip
    """Draw into the sun's map and the rays' maps, which hold `FARTHEST`.

    Scratch: seen (n, 3), ids (SUN_SIDE, SUN_SIDE).
    """
    look(points, looks, SUN, seen)
    parallel(seen, triangles, SUN_SCALE, ids, sun_map)
    for k in range(RAYS):
        look(points, looks, FIRST_RAY + k, seen)
        parallel(seen, bulky, RAY_SCALE, ids, ray_maps[k])


@kernel
def along(looks: Array, which: int, row: int, x: float, y: float, z: float) -> float:
    """[m] of a point along one axis of a look."""
    return float(
        looks[which, row, 0] * (x - looks[which, 3, 0])
        + looks[which, row, 1] * (y - looks[which, 3, 1])
        + looks[which, row, 2] * (z - looks[which, 3, 2])
    )


@kernel
def sunlit(
    looks: Array, sun_map: Nearness,
    x: float, y: float, z: float, nx: float, ny: float, nz: float,
) -> float:  # fmt: skip
    """Share of the sun that reaches a point with normal n; 1 outside the map."""
    x, y, z = x + LIFT * nx, y + LIFT * ny, z + LIFT * nz
    u = SUN_SCALE * along(looks, SUN, 0, x, y, z) + 0.5 * SUN_SIDE - 1.0
    v = SUN_SCALE * along(looks, SUN, 1, x, y, z) + 0.5 * SUN_SIDE - 1.0
    i, j = floor(u), floor(v)
    if i < 0 or j < 0 or i > SUN_SIDE - 3 or j > SUN_SIDE - 3:
        return 1.0
    s, t = u - i, v - j
    level = SUN_BIAS - along(looks, SUN, 2, x, y, z)
    total = 0.0
    for row in range(3):
        across = 0.0
        if sun_map[j + row, i] <= level:
            across += 1.0 - s
        if sun_map[j + row, i + 1] <= level:
            across += 1.0
        if sun_map[j + row, i + 2] <= level:
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
def open_sky(
    looks: Array, ray_maps: Nearness,
    x: float, y: float, z: float, nx: float, ny: float, nz: float,
) -> float:  # fmt: skip
    """Share of the sky that a point with normal n sees, by a few directions."""
    px, py, pz = (
        x - looks[FIRST_RAY, 3, 0],
        y - looks[FIRST_RAY, 3, 1],
        z - looks[FIRST_RAY, 3, 2],
    )
    if px * px + py * py + pz * pz > 0.9 * RAY_REACH * RAY_REACH:
        return 1.0
    seen, whole = 0.0, 0.0
    for k in range(FIRST_RAY, FIRST_RAY + RAYS):
        weight = SLACK - nx * looks[k, 2, 0] - ny * looks[k, 2, 1] - nz * looks[k, 2, 2]
        if weight > 0.0:
            u = RAY_SCALE * along(looks, k, 0, x, y, z) + 0.5 * RAY_SIDE - 0.5
            v = RAY_SCALE * along(looks, k, 1, x, y, z) + 0.5 * RAY_SIDE - 0.5
            level = RAY_BIAS - along(looks, k, 2, x, y, z)
            whole += weight
            seen += weight * past(ray_maps, k - FIRST_RAY, u, v, level)
    return seen / whole if whole > 0.0 else 0.6
