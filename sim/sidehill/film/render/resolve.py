"""From the visibility buffer to pixels: every pixel mixes what its four samples see."""

from functools import lru_cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.raster import NOTHING
from sidehill.film.render.shade import Array, Colour, Indices, Nearness, surface
from sidehill.film.render.sky import backdrop
from sidehill.film.render.texture import Texels

Pixels = NDArray[np.uint8]

TONES = 4096
ROOT = 2.0  # square root of the brightest light that is told apart


@lru_cache(maxsize=1)
def tones() -> Pixels:
    """(TONES,) screen value by the square root of light: highlights roll off, then sRGB."""
    light = 0.92 * (ROOT * np.arange(TONES) / (TONES - 1)) ** 2
    x = light * (1.0 + 0.12 * light) / (1.0 + 0.55 * light)
    screen = np.where(x <= 0.0031308, 12.92 * x, 1.055 * x ** (1 / 2.4) - 0.055)
    return np.asarray(np.rint(255.0 * np.clip(screen, 0.0, 1.0)), dtype=np.uint8)


@kernel
def toned(table: Pixels, light: float) -> int:
    """Screen value of a light."""
    return int(table[int(min(sqrt(max(light, 0.0)), ROOT) * ((TONES - 1) / ROOT) + 0.5)])


@kernel
def sample(
    looks: Array, name: int, right: float, down: float, focal: float, wet: float,
    points: Array, normals: Array, ground: Array, triangles: Indices, finish_of: Indices,
    finishes: Array, sun_map: Nearness, ray_maps: Nearness, texels: Texels, known: Array,
) -> Colour:  # fmt: skip
    """Colour of what is called `name` at a place of the picture, in samples from its middle."""
    dx = right * looks[0, 0, 0] + down * looks[0, 1, 0] + focal * looks[0, 2, 0]
    dy = right * looks[0, 0, 1] + down * looks[0, 1, 1] + focal * looks[0, 2, 1]
    dz = right * looks[0, 0, 2] + down * looks[0, 1, 2] + focal * looks[0, 2, 2]
    one = 1.0 / sqrt(dx * dx + dy * dy + dz * dz)
    dx, dy, dz = one * dx, one * dy, one * dz
    if name == NOTHING:
        return backdrop(dx, dy, dz)
    return surface(
        looks, name, dx, dy, dz, 2.0 / focal, wet, points, normals, ground,
        triangles, finish_of, finishes, sun_map, ray_maps, texels, known,
    )  # fmt: skip


@kernel
def tell_apart(ids: Indices, row: int, column: int, names: Indices, places: Array) -> int:
    """What the four samples of a pixel see: count of different names.

    Fills names (4,) and places (4, 3): mean x and y of their samples [samples from the
    picture's corner], and their share of the pixel.
    """
    y, x = 2 * row, 2 * column
    whole = ids[y, x] == ids[y, x + 1] and ids[y, x] == ids[y + 1, x]
    if whole and ids[y, x] == ids[y + 1, x + 1]:
        names[0], places[0, 0], places[0, 1], places[0, 2] = ids[y, x], x + 1.0, y + 1.0, 1.0
        return 1
    count = 0
    for k in range(4):
        y, x = 2 * row + k // 2, 2 * column + k % 2
        name = ids[y, x]
        i = 0
        while i < count and names[i] != name:
            i += 1
        if i == count:
            names[i], places[i, 0], places[i, 1], places[i, 2] = name, 0.0, 0.0, 0.0
            count += 1
        places[i, 0] += x + 0.5
        places[i, 1] += y + 0.5
        places[i, 2] += 1.0
    for i in range(count):
        one = 1.0 / places[i, 2]
        places[i, 0], places[i, 1] = one * places[i, 0], one * places[i, 1]
        places[i, 2] *= 0.25
    return count


@kernel
def resolve(
    looks: Array, ids: Indices, focal: float, wet: float,
    points: Array, normals: Array, ground: Array, triangles: Indices, finish_of: Indices,
    finishes: Array, sun_map: Nearness, ray_maps: Nearness, texels: Texels,
    table: Pixels, names: Indices, places: Array, known: Array, out: Pixels,
) -> None:  # fmt: skip
    """Pixels (h, w, 3), both even, from ids (2h, 2w), in blocks of four pixels.

    Scratch: names (4,), places (4, 3), known (2,).
    """
    height, width = out.shape[0], out.shape[1]
    for turn in range(height * width):
        block, corner = turn // 4, turn % 4
        row = 2 * (block // (width // 2)) + corner // 2
        column = 2 * (block % (width // 2)) + corner % 2
        if corner == 0:
            known[0] = NOTHING - 1.0
        red = green = blue = 0.0
        for i in range(tell_apart(ids, row, column, names, places)):
            r, g, b = sample(
                looks, names[i], places[i, 0] - width, places[i, 1] - height, focal, wet,
                points, normals, ground, triangles, finish_of, finishes,
                sun_map, ray_maps, texels, known,
            )  # fmt: skip
            share = places[i, 2]
            red, green, blue = red + share * r, green + share * g, blue + share * b
        out[row, column, 0] = toned(table, red)
        out[row, column, 1] = toned(table, green)
        out[row, column, 2] = toned(table, blue)
