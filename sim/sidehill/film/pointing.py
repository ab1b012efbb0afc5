"""What is different about a machine, pointed out in its picture before it sets off."""

from collections.abc import Sequence

import numpy as np
from PIL import Image, ImageDraw

from sidehill.film.choose import is_open, project
from sidehill.film.fitted import Mark
from sidehill.film.grid import Box, scaled
from sidehill.film.ink import PAPER, lettering, pill
from sidehill.film.loupe import LINE, Ring, ring_of
from sidehill.film.pane import Pane
from sidehill.film.render.camera import Camera
from sidehill.film.render.draw import sighted

LEAST = 22  # [pixels] of a ring, on a frame whose shorter side is 720
WIDE = 0.62  # of the picture, that words take at most
DASH = 20  # [deg] of a broken ring's strokes and gaps
NEARER = 0.12  # share of the distance by which a part's own outside may be nearer than its middle


def point_out(
    image: Image.Image, box: Box, pane: Pane, marks: Sequence[Mark], camera: Camera, size: int
) -> None:
    """Words of that size [pixels] in the upper left corner, each with a line to its rings.

    What there is no room for is counted. A ring round what something hides is broken.
    """
    assert pane.scene is not None
    board = sighted(pane.scene, 0.0, camera, box.width, box.height)
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
        spots = [project(place[None], camera.look, board)[0] for place in mark.places]
        rings = [ring_of(place, camera, box, scaled(image.size, LEAST)) for place in mark.places]
        seen = [
            (ring, is_open(spot, board, NEARER))
            for ring, spot in zip(rings, spots, strict=True)
            if ring is not None
        ]
        draw_rings(image, start, seen)
        y += letters.height + size // 4
    for top, text in said:
        pill(image, x, top, text, size, PAPER, room)


def draw_rings(
    image: Image.Image, start: tuple[float, float], rings: Sequence[tuple[Ring, bool]]
) -> None:
    """Rings, each with whether it is whole, and a line from where the words end to the nearest."""
    draw, wide = ImageDraw.Draw(image), max(scaled(image.size, LINE) // 2, 1)
    ways = []
    for (u, v, radius), is_whole in rings:
        ways.append((np.subtract((u, v), start), radius))
        around = (u - radius, v - radius, u + radius, v + radius)
        arcs = [(0.0, 360.0)] if is_whole else [(k, k + DASH) for k in range(0, 360, 2 * DASH)]
        for first, last in arcs:
            draw.arc(around, first, last, PAPER, wide)
    if not rings:
        return
    way, radius = min(ways, key=lambda found: float(np.hypot(*found[0])))
    to = start + way * max(1.0 - radius / float(np.hypot(*way)), 0.0)
    draw.line((*start, *to), PAPER, wide)
