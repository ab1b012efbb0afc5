"""What is written and drawn over one pane."""

from functools import lru_cache

import numpy as np
from PIL import Image, ImageDraw

from sidehill.files.units import show_angle, show_slope, show_threshold
from sidehill.film.badges import FULL, STEPS, level_badge, loads_badge
from sidehill.film.grid import TITLE, Box, badge_boxes, text_size
from sidehill.film.ink import ALARM, AMBER, DIM, PAPER, PLUM, SMALL, fitted, font, pill
from sidehill.film.pane import Pane
from sidehill.film.speech import Said
from sidehill.film.words import Words


def write_title(
    image: Image.Image, strip: Box, pane: Pane, time: float, count: int, words: Words
) -> None:
    """The pane's name and slope, in the strip above its picture; `count` panes in all."""
    size = text_size(image.size, count, TITLE)
    ground = pane.scene.slope(time) if pane.scene else pane.slope
    shown = show_slope(ground) if pane.table is None else show_threshold(ground)
    slope = words.say("slope", slope=shown)
    image.paste(title_strip(strip.width, strip.height, pane.title, slope, size), (strip.x, strip.y))


def title_room(width: int, slope: str, size: int, rows: int) -> float:
    """[pixels] that are left for a name of that size in a strip of 1 or 2 rows."""
    pad = size // 2
    beside = font(round(SMALL * size)).getlength(slope) + pad if rows == 1 else 0.0
    return width - 2 * pad - beside


@lru_cache(maxsize=16)
def title_strip(width: int, height: int, title: str, slope: str, size: int) -> Image.Image:
    """The strip; kept, because it stays for many frames."""
    pad, middle, rows = size // 2, 0.82 * size, 1 if height < 2 * size else 2
    small = font(round(SMALL * size))
    text, shown = fitted(title, size, title_room(width, slope, size, rows), bold=True)
    strip = Image.new("RGB", (width, height), PLUM)
    draw = ImageDraw.Draw(strip)
    draw.text((pad, middle), text, PAPER, font(shown, bold=True), anchor="lm")
    if rows == 1:
        draw.text((width - pad, middle), slope, DIM, small, anchor="rm")
    else:
        draw.text((pad, middle + 1.14 * size), slope, DIM, small, anchor="lm")
    return strip


def write_status(image: Image.Image, box: Box, size: int, said: Said) -> int:
    """Lines of that size [pixels] in the picture's upper left corner; returns where they end."""
    y = box.y + size // 3
    for text, ink in said:
        y += pill(image, box.x + size // 3, y, text, size, ink, box.width - size) + size // 4
    return y


def draw_badges(
    image: Image.Image, box: Box, pane: Pane, time: float, goes_left: bool, words: Words
) -> None:
    """Wheel loads and level, in the lower corners; the machine is between them.

    In a fall the wheels' loads are not followed, so none are shown; goes_left: the level takes
    their place then.
    """
    assert pane.scene is not None
    take = pane.scene.take
    left, right = badge_boxes(image.size, box)
    loads = take.at(take.loads, time)
    shares = loads / (FULL * take.loads[0].sum())
    bars = tuple(int(step) for step in np.clip(np.floor(STEPS * shares), 0, STEPS))
    lifted = tuple(bool(load <= 0.0) for load in loads)
    is_over = pane.over is not None and time > pane.over[1]
    if not is_over:
        badge = loads_badge(left.width, bars, lifted, pane.downhill, words.say("downhill"))
        image.paste(badge, (left.x, left.y))
    roll = pane.scene.roll(time)
    said = (words.say("level"), words.say("roll", roll=show_angle(abs(roll), "up")))
    tenths = round(pane.downhill * np.degrees(roll) * 10)
    goes_over = pane.over is not None and time >= pane.over[0]
    ink = ALARM if goes_over else AMBER if any(lifted) else PAPER
    badge = level_badge(right.width, tenths, ink, said)
    place = left if is_over and goes_left else right
    image.paste(badge, (place.x, place.y))
