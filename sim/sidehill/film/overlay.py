"""What is written and drawn over one pane."""

from collections.abc import Sequence
from math import radians

import numpy as np
from PIL import Image, ImageDraw

from sidehill.film.badges import FULL, STEPS, level_badge, loads_badge
from sidehill.film.camera import Camera, focal_length
from sidehill.film.choose import gap_of
from sidehill.film.clock import Moment
from sidehill.film.ink import ALARM, DIM, GOOD, PAPER, fitted, font, panel, pill
from sidehill.film.layout import Box, scaled
from sidehill.film.pane import Pane
from sidehill.film.words import Words
from sidehill.machine.linkage import WHEELS
from sidehill.units import show, show_angle, show_slope

OVER = radians(60.0)  # past it there is no return, and what is shown is for illustration
TOUCHING = radians(0.1)  # the axle this near to its stop is on it
TITLE, BADGE, STATUS = 32, 148, 29  # sizes on a frame 720 high
SMALL = 0.82  # of the title, in which its slope is written
BADGE_SHARE = 0.40  # of the pane's height, at most


def title_rows(image: Image.Image, box: Box, panes: Sequence[Pane], words: Words) -> int:
    """2 if any pane's name leaves no room for its slope beside it, so that all look alike."""
    size = scaled(image.height, TITLE)
    slope = words.say("slope", slope=show_slope(radians(30.0)))
    room = box.width - 2 * size - font(round(SMALL * size)).getlength(slope)
    longest = max(font(size, bold=True).getlength(pane.title) for pane in panes)
    return 1 if longest <= room else 2


def write_title(
    image: Image.Image, box: Box, pane: Pane, time: float, rows: int, words: Words
) -> int:
    """The pane's name and slope across its top; returns the strip's height [pixels]."""
    size = scaled(image.height, TITLE)
    pad, high = size // 2, round((1.65, 2.75)[rows - 1] * size)
    slope = words.say("slope", slope=show_slope(slope_now(pane, time)))
    title, shown = fitted(pane.title, size, box.width - 2 * pad, bold=True)
    panel(image, (box.x, box.y, box.x + box.width, box.y + high))
    draw = ImageDraw.Draw(image)
    draw.text((box.x + pad, box.y + 0.82 * size), title, PAPER, font(shown, bold=True), anchor="lm")
    if rows == 1:
        spot, anchor = (box.x + box.width - pad, box.y + 0.82 * size), "rm"
    else:
        spot, anchor = (box.x + pad, box.y + 1.98 * size), "lm"
    draw.text(spot, slope, DIM, font(round(SMALL * size)), anchor=anchor)
    return high


def slope_now(pane: Pane, time: float) -> float:
    """[rad] of the ground's side slope."""
    if pane.scene is None:
        return pane.slope
    return float(pane.scene.take.at(pane.scene.take.slope, time))


def status(pane: Pane, moment: Moment, words: Words) -> list[tuple[str, bool]]:
    """What is to be said of the machine now, and whether it is bad news; the gravest first."""
    if pane.scene is None:
        return [(words.say(f"verdict_{pane.outcome.verdict}"), True)]
    take, time = pane.scene.take, moment.time
    said = []
    if time >= pane.end and moment.stage != "freeze":
        good = pane.outcome.verdict == "crossed"
        said.append((words.say(f"verdict_{pane.outcome.verdict}"), not good))
    elif abs(float(take.at(take.roll, time))) > OVER:
        said.append((words.say("beyond"), True))
    elif pane.over is not None and time >= pane.over:
        said.append((words.say("overturning"), True))
    elif abs(float(take.at(take.pin, time))) > pane.swing - TOUCHING:
        said.append((words.say("on_the_stop"), True))
    elif not all(take.at(take.loads, time) > 0.0):
        wheel = int(np.argmin(take.at(take.loads, time)))
        said.append((words.say("lifted", wheel=wheel_word(pane, wheel, words)), True))
    return said + [(words.say(name), True) for name in pane.hazards]


def wheel_word(pane: Pane, wheel: int, words: Words) -> str:
    """How people call a wheel: by axle and side of the hill."""
    axle, side = WHEELS[wheel].split("_")
    is_downhill = (side == "right") == (pane.downhill > 0)
    return words.say(f"wheel_{axle}_{'downhill' if is_downhill else 'uphill'}")


def write_status(image: Image.Image, box: Box, top: int, said: list[tuple[str, bool]]) -> None:
    """The lines below the title."""
    size = scaled(image.height, STATUS)
    y = box.y + top + size // 3
    for text, is_bad in said:
        ink = ALARM if is_bad else GOOD
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
    roll = float(take.at(take.roll_horizon, time))
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


def daylight_words(pane: Pane, words: Words) -> str:
    """Which wheel, and how much of a gap; never more than there is."""
    assert pane.daylight is not None
    gap = show(pane.daylight.gap, "length", rounding="down")
    return words.say("daylight", wheel=wheel_word(pane, pane.daylight.wheel, words), gap=gap)
