"""What is different about a machine, pointed out in its picture before it sets off."""

from collections.abc import Sequence

import numpy as np
from PIL import Image, ImageDraw

from sidehill.film.fitted import Mark
from sidehill.film.grid import Box, scaled
from sidehill.film.ink import PAPER, lettering, pill
from sidehill.film.loupe import LINE, Ring, ring_of
from sidehill.film.render.camera import Camera

LEAST = 22  # [pixels] of a ring, on a frame whose shorter side is 720
WIDE = 0.62  # of the picture, that words take at most


def point_out(
    image: Image.Image, box: Box, marks: Sequence[Mark], camera: Camera, size: int
) -> None:
    """Words of that size [pixels] in the upper left corner, each with a line to its rings.

    What there is no room for is counted.
    """
    x, y, room = box.x + size // 3, box.y + size // 3, WIDE * box.width
    end = box.y + box.height - 2 * size
    said: list[tuple[int, str]] = []  # written over the lines
    for k, mark in enumerate(marks):
        letters = lettering(mark.text, size, room)
        if y + letters.height > end:
            said.append((y, f"+ {len(marks) - k}"))
            break
        said.append((y, mark.text))
        start = (x + letters.width, y + letters.height / 2)
        rings = [ring_of(place, camera, box, scaled(image.size, LEAST)) for place in mark.places]
        draw_rings(image, start, [ring for ring in rings if ring is not None])
        y += letters.height + size // 4
    for top, text in said:
        pill(image, x, top, text, size, PAPER, room)


def draw_rings(image: Image.Image, start: tuple[float, float], rings: Sequence[Ring]) -> None:
    """Rings, and a line from where the words end to the nearest."""
    draw, wide = ImageDraw.Draw(image), max(scaled(image.size, LINE) // 2, 1)
    ways = [np.subtract(ring[:2], start) for ring in rings]
    for u, v, radius in rings:
        draw.ellipse((u - radius, v - radius, u + radius, v + radius), None, PAPER, wide)
    if not rings:
        return
    way, (_, _, radius) = min(
        zip(ways, rings, strict=True), key=lambda pair: float(np.hypot(*pair[0]))
    )
    to = start + way * max(1.0 - radius / float(np.hypot(*way)), 0.0)
    draw.line((*start, *to), PAPER, wide)
