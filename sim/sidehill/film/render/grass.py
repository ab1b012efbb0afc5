"""Grass: blades drawn one by one into a picture that tiles, and its colour on the ground."""

from functools import lru_cache
from math import cos, floor, sin

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.film.render.texture import Texels, build_levels, look_up

SIDE = 1024  # texels along an edge
TILE = 0.5  # tiles a metre
BLADES = 42_000
SEED = 20
LUSH = (0.088, 0.205, 0.036)  # colour of a blade in full light
DRY = (0.300, 0.255, 0.110)
SOIL = 0.16  # light that comes back from between the blades
MOWN = 1.25  # [m] width of a mown stripe
TAPS = 2  # looks along a slanting view, at most: `blades_at` takes one or two
BROAD = 11.5  # times the same picture is enlarged to break up the tiling
BROAD_LEVEL = 2
FINEST = 2**0.65  # texels a pixel up to which the finest level is looked up

Picture = NDArray[np.float32]
Random = NDArray[np.float64]


@kernel
def draw_blades(picture: Picture, random: Random) -> None:
    """Blades onto a picture (side, side, 2) of light and dryness; random (n, 8) from 0 to 1."""
    side = picture.shape[0]
    mask = side - 1
    for i in range(random.shape[0]):
        r = random[i]
        x, y, turn = r[0] * side, r[1] * side, 6.283185307179586 * r[2]
        long, bend = 10.0 + 22.0 * r[3], 1.6 * (r[4] - 0.5)
        # later blades lie on top and catch more light
        light = (0.35 + 0.65 * i / random.shape[0]) * (0.75 + 0.5 * r[6])
        dry = 1.0 if r[7] > 0.94 else 0.55 * (1.0 - r[5])
        steps = int(2.0 * long)
        for k in range(steps):
            s = k / steps
            heading = turn + bend * s
            x += 0.5 * cos(heading)
            y += 0.5 * sin(heading)
            glow = light * (0.45 + 0.75 * s)
            for w in range(2 if s < 0.6 else 1):
                px, py = int(x + w * sin(turn)) & mask, int(y - w * cos(turn)) & mask
                picture[py, px, 0] = glow
                picture[py, px, 1] = glow * dry


@lru_cache(maxsize=1)
def grass() -> Texels:
    """The same grass every time, at every scale."""
    picture = np.zeros((SIDE, SIDE, 2), np.float32)
    picture[:, :, 0] = SOIL
    draw_blades(picture, np.random.default_rng(SEED).random((BLADES, 8)))
    return build_levels(picture)


@kernel
def taps_of(across: float, slant: float) -> tuple[int, float, int]:
    """How a pixel looks grass up that covers `across` [m], and `slant` times that lengthwise.

    Returns the count of looks, the way [m] between them, and the level.
    """
    taps = min(max(int(slant + 0.5), 1), TAPS)
    stride = across * slant / taps
    texels, level, most = max(across, 0.7 * stride) * (SIDE * TILE), 0, FINEST
    while texels >= most:
        most, level = 2.0 * most, level + 1
    return taps, stride, level


@kernel
def blades_at(
    texels: Texels, u: float, v: float, taps: int, step_u: float, step_v: float, level: int
) -> tuple[float, float]:
    """Light and dryness of the grass about (u, v) [m]; `step`: [m] between its looks."""
    lush = lushness(texels, u, v, level)
    if taps == 1:
        light, dry = look_up(texels, SIDE, u * TILE, v * TILE, level)
        return lush * light, lush * dry
    half_u, half_v = 0.5 * step_u, 0.5 * step_v
    light, dry = look_up(texels, SIDE, (u - half_u) * TILE, (v - half_v) * TILE, level)
    more, drier = look_up(texels, SIDE, (u + half_u) * TILE, (v + half_v) * TILE, level)
    return 0.5 * lush * (light + more), 0.5 * lush * (dry + drier)


@kernel
def lushness(texels: Texels, u: float, v: float, level: int) -> float:
    """What blades about (u, v) [m] are multiplied by: patches and mown stripes."""
    x, y = (0.8 * u + 0.6 * v) * (TILE / BROAD), (0.8 * v - 0.6 * u) * (TILE / BROAD)
    patch, _ = look_up(texels, SIDE, x, y, max(level - 3, BROAD_LEVEL))
    stripe = v * (1.0 / MOWN)
    nearest = floor(stripe)
    phase = stripe - nearest
    edge = 0.06 * min(min(phase, 1.0 - phase) * 10.0, 1.0)
    return (0.45 + 1.1 * patch) * (1.0 + (edge if nearest & 1 else -edge))
