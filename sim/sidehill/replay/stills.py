"""A picture of each moment, drawn as the film draws: what is left without 3D, and on paper."""

import base64
from collections.abc import Sequence
from io import BytesIO

import numpy as np
from PIL import Image

from sidehill.film.choose import choose
from sidehill.film.pane import Pane, camera_at, extent_of
from sidehill.film.render.camera import VIEWS, stand_of
from sidehill.film.render.draw import picture
from sidehill.film.render.finish import linear
from sidehill.film.render.grass import DRY, LUSH, SIDE, grass
from sidehill.film.render.texture import first_texel

WIDTH, HEIGHT = 480, 300  # [pixels]
QUALITY = 62
GRASS_SIDE, GRASS_QUALITY = 256, 70
PATCHY = 1.0  # of the light that the film's patches of grass let through, in the mean


def still(pane: Pane, time: float, view: str, drawn: Sequence[Pane]) -> str:
    """The run at a time [s], from a view of the film, as the source of an image."""
    assert pane.scene is not None
    stand = stand_of(VIEWS[view], extent_of(drawn), WIDTH, HEIGHT)
    pixels = picture(pane.scene, time, camera_at(pane, time, stand), WIDTH, HEIGHT)
    return source(Image.fromarray(pixels), QUALITY)


def best_view(drawn: Sequence[Pane]) -> str:
    """The view that sees the first daylight best, as the film chooses it."""
    return choose(drawn, extent_of(drawn), WIDTH, HEIGHT)


def grass_tile() -> str:
    """The film's grass, its blades' light and dryness as colours, as the source of an image."""
    start = first_texel(SIDE, GRASS_SIDE)
    light, dry = np.moveaxis(grass()[start : start + GRASS_SIDE**2], 1, 0)[..., None]
    colour = PATCHY * (np.array(LUSH) * light + (np.array(DRY) - np.array(LUSH)) * dry)
    table = np.array([linear(value / 255.0) for value in range(256)])
    shown = np.searchsorted(table, np.clip(colour, 0.0, 1.0)).clip(0, 255)
    return source(Image.fromarray(shown.reshape(GRASS_SIDE, GRASS_SIDE, 3).astype(np.uint8)),
                  GRASS_QUALITY)  # fmt: skip


def source(image: Image.Image, quality: int) -> str:
    """An image as a data address. Same pixels, same text."""
    data = BytesIO()
    image.save(data, "WEBP", quality=quality, method=6)
    return f"data:image/webp;base64,{base64.b64encode(data.getvalue()).decode('ascii')}"
