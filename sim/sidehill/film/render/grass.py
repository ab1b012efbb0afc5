"""Grass: blades drawn one by one into a picture that tiles, and its colour on the ground."""

from functools import lru_cache
from math import cos, floor, log2, sin

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
TAPS = 2  # looks along a slanting view, at most
BROAD = 11.5  # times the same picture is enlarged to break up the tiling
BROAD_LEVEL = 2

Picture = NDArray[np.float32]
Random = NDArray[np.float64]
Colour = tuple[float, float, float]


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
def grass_at(
    texels: Texels, u: float, v: float, du: float, dv: float, across: float, slant: float
) -> Colour:
    """Grass at (u, v) [m]; a pixel covers `across` [m], and `slant` times that along (du, dv)."""
    taps = min(max(int(slant + 0.5), 1), TAPS)
    one = 1.0 / taps
    stride = across * slant * one
    level = int(log2(max(max(across, 0.7 * stride) * (SIDE * TILE), 1.0)) + 0.35)
    light = dry = 0.0
    for k in range(taps):
        s = (k + 0.5 - 0.5 * taps) * stride
        first, second = look_up(texels, SIDE, (u + s * du) * TILE, (v + s * dv) * TILE, level)
        light, dry = light + first, dry + second
    x, y = 0.8 * u + 0.6 * v, 0.8 * v - 0.6 * u
    patch, _ = look_up(
        texels, SIDE, x * (TILE / BROAD), y * (TILE / BROAD), max(level - 3, BROAD_LEVEL)
    )
    stripe = v * (1.0 / MOWN)
    phase = stripe - floor(stripe)
    edge = 0.06 * min(min(phase, 1.0 - phase) * 10.0, 1.0)
    share = (0.45 + 1.1 * patch) * (1.0 + (edge if floor(stripe) & 1 else -edge)) * one
    light, dry = light * share, dry * share
    return (
        LUSH[0] * light + (DRY[0] - LUSH[0]) * dry,
        LUSH[1] * light + (DRY[1] - LUSH[1]) * dry,
        LUSH[2] * light + (DRY[2] - LUSH[2]) * dry,
    )
