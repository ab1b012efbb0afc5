"""What is written and drawn over one pane."""

import numpy as np
from PIL import Image, ImageDraw

from sidehill.files.units import show_angle, show_slope, show_threshold
from sidehill.film.badges import FULL, STEPS, level_badge, loads_badge
from sidehill.film.grid import TITLE, Box, badge_boxes, text_size
from sidehill.film.ink import DIM, PAPER, PLUM, SMALL, fitted, font, pill
from sidehill.film.pane import Pane
from sidehill.film.speech import Said
from sidehill.film.words import Words


def write_title(
    image: Image.Image, strip: Box, pane: Pane, time: float, count: int, words: Words
) -> None:
    """The pane's name and slope, in the strip above its picture; `count` panes in all."""
    size = text_size(image.size, count, TITLE)
    pad, middle = size // 2, strip.y + 0.82 * size
    one_row = strip.height < 2 * size
    table = pane.scene if pane.scene and pane.scene.bank is None else None  # its slope grows
    shown = show_slope(pane.slope) if table is None else show_threshold(table.slope(time))
    slope = words.say("slope", slope=shown)
    small = font(round(SMALL * size))
    room = strip.width - 2 * pad - (small.getlength(slope) + pad if one_row else 0.0)
    title, height = fitted(pane.title, size, room, bold=True)
    draw = ImageDraw.Draw(image)
    draw.rectangle(strip.corners, PLUM)
    draw.text((strip.x + pad, middle), title, PAPER, font(height, bold=True), anchor="lm")
    if one_row:
        draw.text((strip.x + strip.width - pad, middle), slope, DIM, small, anchor="rm")
    else:
        draw.text((strip.x + pad, middle + 1.14 * size), slope, DIM, small, anchor="lm")


def write_status(image: Image.Image, box: Box, size: int, said: Said) -> int:
    """Lines of that size [pixels] in the picture's upper left corner; returns where they end."""
    y = box.y + size // 3
    for text, ink in said:
        y += pill(image, box.x + size // 3, y, text, size, ink, box.width - size) + size // 4
    return y


def draw_badges(image: Image.Image, box: Box, pane: Pane, time: float, words: Words) -> None:
    """Wheel loads and level, in the lower corners; the machine is between them.

    In a fall the wheels' loads are not followed, so none are shown.
    """
    assert pane.scene is not None
    take = pane.scene.take
    left, right = badge_boxes(image.height, box)
    loads = take.at(take.loads, time)
    shares = loads / (FULL * take.loads[0].sum())
    bars = tuple(int(step) for step in np.clip(np.floor(STEPS * shares), 0, STEPS))
    lifted = tuple(bool(load <= 0.0) for load in loads)
    if pane.over is None or time <= pane.over[1]:
        badge = loads_badge(left.width, bars, lifted, pane.downhill, words.say("downhill"))
        image.paste(badge, (left.x, left.y))
    roll = pane.scene.roll(time)
    said = (words.say("level"), words.say("roll", roll=show_angle(abs(roll), "up")))
    tenths = round(pane.downhill * np.degrees(roll) * 10)
    badge = level_badge(right.width, tenths, any(lifted), said)
    image.paste(badge, (right.x, right.y))
