"""What a point of a surface looks like: its own colour, lit, through the haze."""

from math import sqrt

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.grass import grass_at
from sidehill.film.render.light import CAMERA
from sidehill.film.render.shadow import along, open_sky, sunlit
from sidehill.film.render.sky import HAZE, dome, veiled
from sidehill.film.render.texture import Texels

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Nearness = NDArray[np.float32]
Colour = tuple[float, float, float]

FINISH = 6
RED, GREEN, BLUE, GLOSS, SHARPNESS, GRASSY = range(FINISH)  # columns of a finish
SUNLIGHT = (2.9, 2.65, 2.25)
SKYLIGHT = (0.62, 0.78, 1.0)
WET_DARKER, WET_GLOSS, WET_SHARPNESS = 0.32, 0.10, 12.0  # wet grass: a dark, broad shine
EARTH = (0.235, 0.165, 0.105)  # worn ground
BOUNCE = (0.20, 0.22, 0.11)  # what the ground throws back up


@kernel
def lit(
    looks: Array, sun_map: Nearness, opening: float, colour: Colour, gloss: float,
    sharpness: float, x: float, y: float, z: float, nx: float, ny: float, nz: float,
    dx: float, dy: float, dz: float,
) -> Colour:  # fmt: skip
    """Light that a point with normal n and own colour sends back along a look d."""
    sx, sy, sz = -looks[1, 2, 0], -looks[1, 2, 1], -looks[1, 2, 2]
    facing = nx * sx + ny * sy + nz * sz
    share = facing * sunlit(looks, sun_map, x, y, z, nx, ny, nz) if facing > 0.0 else 0.0
    above = (0.5 + 0.5 * nz) * opening
    below = (0.5 - 0.5 * nz) * (0.25 + 0.75 * opening)
    red = colour[0] * (SUNLIGHT[0] * share + SKYLIGHT[0] * above + BOUNCE[0] * below)
    green = colour[1] * (SUNLIGHT[1] * share + SKYLIGHT[1] * above + BOUNCE[1] * below)
    blue = colour[2] * (SUNLIGHT[2] * share + SKYLIGHT[2] * above + BOUNCE[2] * below)
    if gloss <= 0.0:
        return red, green, blue
    away = -(nx * dx + ny * dy + nz * dz)
    rx, ry, rz = dx + 2 * away * nx, dy + 2 * away * ny, dz + 2 * away * nz
    graze = (1.0 - max(away, 0.0)) ** 2
    # below the horizon there is no sky to mirror; faded, or a line would cross the ground
    skyward = min(max(2.5 * rz + 0.5, 0.0), 1.0)
    mirror = gloss * (0.25 + 0.75 * graze * graze) * (0.3 + 0.7 * opening) * skyward
    if mirror > 0.0:
        r, g, b = dome(max(rz, 0.12))
        red, green, blue = red + mirror * r, green + mirror * g, blue + mirror * b
    glint = rx * sx + ry * sy + rz * sz
    if glint > 0.0 and share > 0.0:
        spark = 2.2 * gloss * glint**sharpness * share
        red, green, blue = red + spark, green + spark, blue + spark
    return red, green, blue


@kernel
def blend(
    values: Array, column: int, i: int, j: int, k: int, r: float, s: float, t: float
) -> float:
    """A column of rows i, j, k in the shares r, s, t."""
    return float(r * values[i, column] + s * values[j, column] + t * values[k, column])


@kernel
def worn(colour: Colour, bare: float, wet: float) -> Colour:
    """Grass that is worn to the earth in part, and dark where it is wet."""
    grain, dark = 0.35 + 3.2 * colour[1], 1.0 - WET_DARKER * wet
    return (
        dark * (colour[0] + bare * (EARTH[0] * grain - colour[0])),
        dark * (colour[1] + bare * (EARTH[1] * grain - colour[1])),
        dark * (colour[2] + bare * (EARTH[2] * grain - colour[2])),
    )


@kernel
def surface(
    looks: Array, name: int, dx: float, dy: float, dz: float, cover: float, wet: float,
    points: Array, normals: Array, ground: Array, triangles: Indices, finish_of: Indices,
    finishes: Array, sun_map: Nearness, ray_maps: Nearness, texels: Texels, known: Array,
) -> Colour:  # fmt: skip
    """Colour of triangle `name` along the unit look d.

    cover: size of a pixel over its distance. known: (2,) surface and its share of open sky,
    kept over a block of pixels because that share changes slowly.
    """
    i, j, k = triangles[name, 0], triangles[name, 1], triangles[name, 2]
    ax, ay, az = points[i, 0], points[i, 1], points[i, 2]
    bx, by, bz = points[j, 0] - ax, points[j, 1] - ay, points[j, 2] - az
    cx, cy, cz = points[k, 0] - ax, points[k, 1] - ay, points[k, 2] - az
    px, py, pz = dy * cz - dz * cy, dz * cx - dx * cz, dx * cy - dy * cx
    det = bx * px + by * py + bz * pz
    if det == 0.0:
        return HAZE
    ox, oy, oz = looks[0, 3, 0] - ax, looks[0, 3, 1] - ay, looks[0, 3, 2] - az
    qx, qy, qz = oy * bz - oz * by, oz * bx - ox * bz, ox * by - oy * bx
    one = 1.0 / det
    s = min(max(one * (ox * px + oy * py + oz * pz), 0.0), 1.0)
    t = min(max(one * (dx * qx + dy * qy + dz * qz), 0.0), 1.0 - s)
    r = 1.0 - s - t
    x, y, z = ax + s * bx + t * cx, ay + s * by + t * cy, az + s * bz + t * cz
    nx = blend(normals, 0, i, j, k, r, s, t)
    ny = blend(normals, 1, i, j, k, r, s, t)
    nz = blend(normals, 2, i, j, k, r, s, t)
    one = 1.0 / sqrt(nx * nx + ny * ny + nz * nz)
    nx, ny, nz = one * nx, one * ny, one * nz
    distance = along(looks, CAMERA, 2, x, y, z)
    f = finish_of[name]
    colour = (finishes[f, RED], finishes[f, GREEN], finishes[f, BLUE])
    gloss, sharpness = finishes[f, GLOSS], finishes[f, SHARPNESS]
    if finishes[f, GRASSY] > 0.0:
        slope = max(-(nx * dx + ny * dy + nz * dz), 0.02)
        u, v = blend(ground, 0, i, j, k, r, s, t), blend(ground, 1, i, j, k, r, s, t)
        bare = blend(ground, 2, i, j, k, r, s, t)
        one = 1.0 / (sqrt(dx * dx + dy * dy) + 1e-9)
        colour = grass_at(texels, u, v, one * dx, one * dy, cover * distance, 1.0 / slope)
        colour = worn(colour, bare, wet)
        gloss, sharpness = WET_GLOSS * wet * (1.0 - bare), WET_SHARPNESS
    key = -1.0 if finishes[f, GRASSY] > 0.0 else float(name)
    if known[0] != key:
        known[0], known[1] = key, open_sky(looks, ray_maps, x, y, z, nx, ny, nz)
    red, green, blue = lit(
        looks, sun_map, known[1], colour, gloss, sharpness, x, y, z, nx, ny, nz, dx, dy, dz
    )
    return veiled(red, green, blue, distance)
