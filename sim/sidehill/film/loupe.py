"""First daylight seen close up: a ring where it is, and a round picture of it from near by."""

from dataclasses import replace

import numpy as np
from PIL import Image, ImageDraw

from sidehill.film.choose import gap_of
from sidehill.film.grid import Box, Size, badge_boxes, scaled
from sidehill.film.ink import AMBER, FINER
from sidehill.film.pane import Pane
from sidehill.film.render.camera import Camera, focal_length
from sidehill.film.render.draw import picture
from sidehill.film.render.shapes import Array

RING = 0.16  # [m] radius of the ring
NEAR = 1.1  # [m] from which the close picture is taken: two feet of ground across
LINE = 4  # [pixels] on a frame whose shorter side is 720

Ring = tuple[float, float, float]  # [pixels] x and y of its middle, radius


def show_daylight(
    image: Image.Image, box: Box, pane: Pane, time: float, camera: Camera, below: int
) -> None:
    """Ring and close picture in a pane's picture; `below` [pixels]: what stands there is read."""
    top, foot = gap_of(pane, time)
    middle = 0.5 * (top + foot)
    ring = ring_of(middle, camera, box, scaled(image.size, 20))
    if ring is None:
        return
    place = place_of(image.size, box, ring, below)
    draw, wide = ImageDraw.Draw(image), scaled(image.size, LINE)
    (x, y, radius), (u, v) = ring, (place.x + place.width / 2, place.y + place.height / 2)
    away = np.array([u - x, v - y]) / np.hypot(u - x, v - y)
    draw.line((x + radius * away[0], y + radius * away[1], u, v), AMBER, wide)
    draw.ellipse((x - radius, y - radius, x + radius, y + radius), None, AMBER, wide)
    paste_round(image, close_picture(pane, time, camera, middle, place.width), place, wide)


def ring_of(point: Array, camera: Camera, box: Box, least: int) -> Ring | None:
    """Middle and radius [pixels] of the ring round a point [m]; None out of the picture."""
    ray = camera.look[:3] @ (point - camera.eye)
    if ray[2] <= 0.0:
        return None
    scale = focal_length(box.width, box.height) / ray[2]
    x = box.x + box.width / 2 + scale * ray[0]
    y = box.y + box.height / 2 + scale * ray[1]
    inside = box.x < x < box.x + box.width and box.y < y < box.y + box.height
    return (x, y, max(RING * scale, least)) if inside else None


def place_of(frame: Size, box: Box, ring: Ring, below: int) -> Box:
    """Where the close picture goes: above the badges on the ring's side, or beside the other one.

    No farther from the ring than it must be, and no nearer than leaves the wheel to be seen.
    """
    left, right = badge_boxes(frame, box)
    x, _, radius = ring
    side, gap = left.width, left.x - box.x
    off, at_left = round(1.5 * side + radius), x < box.x + box.width / 2
    if left.y - gap - side < below:
        return replace(left, x=right.x - gap - side if at_left else left.x + gap + side)
    near = max(left.x, round(x) - off) if at_left else min(right.x, round(x) + off - side)
    return Box(near, left.y - gap - side, side, side)


def close_picture(pane: Pane, time: float, camera: Camera, middle: Array, side: int) -> Image.Image:
    """(side, side) the daylight along the same line of sight, from near by."""
    assert pane.scene is not None
    way = camera.eye - middle
    eye = middle + NEAR * way / np.linalg.norm(way)
    pixels = picture(pane.scene, time, Camera(eye, middle, camera.sun), side, side)
    return Image.fromarray(pixels)


def paste_round(image: Image.Image, close: Image.Image, place: Box, wide: int) -> None:
    """A square picture cut to a circle, with an edge."""
    n = FINER * place.width
    mask = Image.new("L", (n, n), 0)
    ImageDraw.Draw(mask).ellipse((0, 0, n - 1, n - 1), 255)
    rim = Image.new("L", (n, n), 0)
    ImageDraw.Draw(rim).ellipse((0, 0, n - 1, n - 1), None, 255, FINER * wide)
    image.paste(close, (place.x, place.y), mask.reduce(FINER))
    image.paste(Image.new("RGB", close.size, AMBER), (place.x, place.y), rim.reduce(FINER))
