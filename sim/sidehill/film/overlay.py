"""What is written and drawn over one pane."""

import numpy as np
from PIL import Image, ImageDraw

from sidehill.film.badges import FULL, STEPS, level_badge, loads_badge
from sidehill.film.camera import Camera, focal_length
from sidehill.film.choose import gap_of
from sidehill.film.ink import ALARM, DIM, PAPER, PLUM, SMALL, fitted, font, pill
from sidehill.film.layout import BADGE, TITLE, Box, scaled, text_size
from sidehill.film.pane import Pane
from sidehill.film.speech import Said
from sidehill.film.words import Words
from sidehill.units import show_angle, show_slope

BADGE_SHARE = 0.48  # of the pane's height, at most


def write_title(
    image: Image.Image, strip: Box, pane: Pane, time: float, count: int, words: Words
) -> None:
    """The pane's name and slope, in the strip above its picture; `count` panes in all."""
    size = text_size(image.size, count, TITLE)
    pad, middle = size // 2, strip.y + 0.82 * size
    one_row = strip.height < 2 * size
    slope = words.say(
        "slope", slope=show_slope(pane.scene.slope(time) if pane.scene else pane.slope)
    )
    small = font(round(SMALL * size))
    room = strip.width - 2 * pad - (small.getlength(slope) + pad if one_row else 0.0)
    title, shown = fitted(pane.title, size, room, bold=True)
    draw = ImageDraw.Draw(image)
    draw.rectangle(strip.corners, PLUM)
    draw.text((strip.x + pad, middle), title, PAPER, font(shown, bold=True), anchor="lm")
    if one_row:
        draw.text((strip.x + strip.width - pad, middle), slope, DIM, small, anchor="rm")
    else:
        draw.text((strip.x + pad, middle + 1.14 * size), slope, DIM, small, anchor="lm")


def write_status(image: Image.Image, box: Box, size: int, said: Said) -> None:
    """Lines of that size [pixels] in the picture's upper left corner."""
    y = box.y + size // 3
    for text, ink in said:
        y += pill(image, box.x + size // 3, y, text, size, ink, box.width - size) + size // 4


def draw_badges(image: Image.Image, box: Box, pane: Pane, time: float, words: Words) -> None:
    """Wheel loads and level, in the lower corners; the machine is between them."""
    assert pane.scene is not None
    take = pane.scene.take
    side = min(scaled(image.height, BADGE), round(BADGE_SHARE * box.height))
    gap = side // 12
    y = box.y + box.height - side - gap
    loads = take.at(take.loads, time)
    shares = loads / (FULL * take.loads[0].sum())
    bars = tuple(int(step) for step in np.clip(np.floor(STEPS * shares), 0, STEPS))
    lifted = tuple(bool(load <= 0.0) for load in loads)
    image.paste(
        loads_badge(side, bars, lifted, pane.downhill, words.say("downhill")), (box.x + gap, y)
    )
    roll = pane.scene.roll(time)
    said = (words.say("level"), words.say("roll", roll=show_angle(abs(roll), "up")))
    tenths = round(pane.downhill * np.degrees(roll) * 10)
    badge = level_badge(side, tenths, any(lifted), said)
    image.paste(badge, (box.x + box.width - gap - side, y))


def mark_daylight(image: Image.Image, box: Box, pane: Pane, time: float, camera: Camera) -> None:
    """A ring round the first daylight."""
    top, foot = gap_of(pane, time)
    ray = camera.look[:3] @ (0.5 * (top + foot) - camera.eye)
    if ray[2] <= 0.0:
        return
    focal = focal_length(box.width, box.height)
    x = box.x + box.width / 2 + focal * ray[0] / ray[2]
    y = box.y + box.height / 2 + focal * ray[1] / ray[2]
    radius = max(0.30 * focal / ray[2], scaled(image.height, 26))
    if not (box.x < x < box.x + box.width and box.y < y < box.y + box.height):
        return
    ImageDraw.Draw(image).ellipse(
        (x - radius, y - radius, x + radius, y + radius), None, ALARM, scaled(image.height, 5)
    )
