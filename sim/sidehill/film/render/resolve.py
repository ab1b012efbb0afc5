"""From the visibility buffer to pixels: every pixel mixes what its four samples see.

A face is lit once in a block of two by two pixels; where its shadow's edge crosses the block,
the sun is asked for every pixel.
"""

from functools import lru_cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.finish import GRASSY
from sidehill.film.render.grass import blades_at
from sidehill.film.render.mesh import Block, Faces, Indices, Light, Mesh, Nearness
from sidehill.film.render.plan import lay
from sidehill.film.render.raster import NOTHING
from sidehill.film.render.shade import (
    BY_BLADE,
    BY_DRY,
    LEVEL,
    OWN,
    SENT,
    SHADE,
    SPARK,
    SUN,
    TAPS,
    U_DOWN,
    U_RIGHT,
    U_STEP,
    V_DOWN,
    V_RIGHT,
    V_STEP,
    U,
    V,
    beside,
    ray,
    tint_face,
)
from sidehill.film.render.shadow import sunlit
from sidehill.film.render.sky import HIGHEST, backdrop, dome

Pixels = NDArray[np.uint8]

BRIGHTEST = 4  # light that is told from brighter
TONES = 12288  # steps of a light of 1: a quarter of a screen value in the darkest


@lru_cache(maxsize=1)
def tones() -> Pixels:
    """(BRIGHTEST TONES + 1,) screen value of a light: highlights roll off, then sRGB."""
    light = 0.92 * np.arange(BRIGHTEST * TONES + 1) / TONES
    x = light * (1.0 + 0.12 * light) / (1.0 + 0.55 * light)
    screen = np.where(x <= 0.0031308, 12.92 * x, 1.055 * x ** (1 / 2.4) - 0.055)
    return np.asarray(np.rint(255.0 * np.clip(screen, 0.0, 1.0)), dtype=np.uint8)


@kernel
def toned(table: Pixels, light: float) -> int:
    """Screen value of a light."""
    return int(table[np.uint32(min(max(light, 0.0), BRIGHTEST) * TONES + 0.5)])


@kernel
def is_one(ids: Indices, top: int, left: int) -> bool:
    """Whether all sixteen samples of a block see the same."""
    name = ids[top, left]
    for y in range(top, top + 4):
        if (ids[y, left] ^ name) | (ids[y, left + 1] ^ name):
            return False
        if (ids[y, left + 2] ^ name) | (ids[y, left + 3] ^ name):
            return False
    return True


@kernel
def tell_apart(ids: Indices, near: Nearness, top: int, left: int, block: Block) -> int:
    """What the sixteen samples of a block see: count of different names, which are filled in."""
    names, spots, cover = block.names, block.spots, block.cover
    count = i = 0
    for k in range(16):
        y, x = top + k // 4, left + k % 4
        if k == 0 or ids[y, x] != names[i]:  # mostly the one before
            i = 0
            while i < count and names[i] != ids[y, x]:
                i += 1
        if i == count:
            names[i], count = ids[y, x], count + 1
            for c in range(4):
                spots[i, c] = cover[i, c] = 0.0
        spots[i, 0] += x + 0.5
        spots[i, 1] += y + 0.5
        spots[i, 2] += near[y, x]
        spots[i, 3] += 1.0
        cover[i, k // 8 * 2 + k % 4 // 2] += 0.25
    for i in range(count):
        one = 1.0 / spots[i, 3]
        for c in range(3):
            spots[i, c] *= one
    return count


@kernel
def all_one(ids: Indices, near: Nearness, top: int, left: int, block: Block) -> int:
    """The same where all see one face."""
    block.names[0] = ids[top, left]
    block.spots[0, 0], block.spots[0, 1] = left + 2.0, top + 2.0
    block.spots[0, 2] = 0.5 * (near[top, left] + near[top + 3, left + 3])
    for pixel in range(4):
        block.cover[0, pixel] = 1.0
    return 1


@kernel
def add_face(
    mesh: Mesh, light: Light, faces: Faces, block: Block, k: int,
    x: float, y: float, mx: float, my: float,
) -> None:  # fmt: skip
    """A face's light to the sums of a block whose middle is (x, y) [samples].

    Args:
        k: place of the face among those of the block; mx, my: middle of the picture.
    """
    tint, lie, name = block.tint, block.lie, block.names[k]
    right, down, near = block.spots[k, 0] - mx, block.spots[k, 1] - my, block.spots[k, 2]
    sunny, at, normal = tint_face(mesh, light, faces, block, name, right, down, near)
    sun = sunlit(light.looks, light.sun_map, at, normal) if sunny else 0.0
    grassy, blade, dry = mesh.finishes[mesh.finish_of[name], GRASSY] > 0.0, 0.0, 0.0
    on_edge, taps, level = 0.0 < sun < 1.0, int(lie[TAPS]), int(lie[LEVEL])
    for pixel in range(4):
        part = block.cover[k, pixel]
        if part == 0.0:
            continue
        to_right = x + (2 * (pixel % 2) - 1) - block.spots[k, 0]
        to_down = y + (2 * (pixel // 2) - 1) - block.spots[k, 1]
        if on_edge:
            there = beside(light, at, normal, right + to_right, down + to_down)
            sun = sunlit(light.looks, light.sun_map, there, normal)
        if grassy:
            blade, dry = blades_at(
                light.texels,
                lie[U] + to_right * lie[U_RIGHT] + to_down * lie[U_DOWN],
                lie[V] + to_right * lie[V_RIGHT] + to_down * lie[V_DOWN],
                taps, lie[U_STEP], lie[V_STEP], level,
            )  # fmt: skip
        for c in range(3):
            own = tint[c, OWN] + tint[c, BY_BLADE] * blade + tint[c, BY_DRY] * dry
            lit = own * (tint[c, SHADE] + tint[c, SUN] * sun) + tint[c, SENT] + tint[c, SPARK] * sun
            block.sums[pixel, c] += part * lit


@kernel
def add_sky(light: Light, block: Block, k: int, mx: float, my: float) -> None:
    """The sky's light to the sums of a block in which other things are seen too."""
    red, green, blue = sky_at(light, block.spots[k, 0] - mx, block.spots[k, 1] - my)
    for pixel in range(4):
        part = block.cover[k, pixel]
        block.sums[pixel, 0] += part * red
        block.sums[pixel, 1] += part * green
        block.sums[pixel, 2] += part * blue


@kernel
def sky_at(light: Light, right: float, down: float) -> tuple[float, float, float]:
    """Colour of the sky at a place [samples from the picture's middle]."""
    x, y, z = ray(light, right, down)
    one = 1.0 / sqrt(x * x + y * y + z * z)
    return backdrop(light.hills, one * x, one * y, one * z)


@kernel
def write_sky(
    light: Light, table: Pixels, out: Pixels, row: int, column: int, right: float, down: float
) -> None:
    """A block of nothing but sky about a place: one colour, or four where hills may be."""
    x, y, z = ray(light, right, down)
    one = 1.0 / sqrt(x * x + y * y + z * z)
    if one * z > HIGHEST + 2.0 / light.focal:
        red, green, blue = dome(one * z)
        r, g, b = toned(table, red), toned(table, green), toned(table, blue)
        for i in range(row, row + 2):
            for j in range(column, column + 2):
                out[i, j, 0], out[i, j, 1], out[i, j, 2] = r, g, b
        return
    for i in range(2):
        for j in range(2):
            red, green, blue = sky_at(light, right + 2 * j - 1, down + 2 * i - 1)
            out[row + i, column + j, 0] = toned(table, red)
            out[row + i, column + j, 1] = toned(table, green)
            out[row + i, column + j, 2] = toned(table, blue)


@kernel
def write_block(
    mesh: Mesh, light: Light, faces: Faces, block: Block, ids: Indices, near: Nearness,
    table: Pixels, out: Pixels, row: int, column: int,
) -> None:  # fmt: skip
    """The four pixels from (row, column) on."""
    top, left, mx, my = 2 * row, 2 * column, float(out.shape[1]), float(out.shape[0])
    single = is_one(ids, top, left)
    if single and ids[top, left] == NOTHING:
        write_sky(light, table, out, row, column, left + 2.0 - mx, top + 2.0 - my)
        return
    if single:
        count = all_one(ids, near, top, left, block)
    else:
        count = tell_apart(ids, near, top, left, block)
    block.sums[:, :] = 0.0
    for k in range(count):
        name = block.names[k]
        if name == NOTHING:
            add_sky(light, block, k, mx, my)
            continue
        if not faces.known[name]:
            lay(mesh, faces, name, light.focal)
        add_face(mesh, light, faces, block, k, left + 2.0, top + 2.0, mx, my)
    for pixel in range(4):
        i, j = row + pixel // 2, column + pixel % 2
        for c in range(3):
            out[i, j, c] = toned(table, block.sums[pixel, c])


@kernel
def resolve(
    mesh: Mesh, light: Light, faces: Faces, block: Block, ids: Indices, near: Nearness,
    table: Pixels, out: Pixels,
) -> None:  # fmt: skip
    """Pixels (h, w, 3), both even, from ids and near (2h, 2w) or wider, block by block."""
    for row in range(0, out.shape[0], 2):
        for column in range(0, out.shape[1], 2):
            write_block(mesh, light, faces, block, ids, near, table, out, row, column)
