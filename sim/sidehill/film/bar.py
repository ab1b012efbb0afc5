"""The strip at the bottom of a frame: caption to the left, clock and speed to the right.

Of a tall frame the caption stands above the clock.
"""

from functools import lru_cache

from PIL import Image, ImageDraw

from sidehill.film.clock import Moment, Tempo
from sidehill.film.grid import Box, Size, bar_box, is_tall, scaled
from sidehill.film.ink import DIM, DUSK, PAPER, font, wrapped
from sidehill.film.words import Words

CLOCK, EDGE = 28, 16  # sizes on a frame whose shorter side is 720
SIZES = (28, 24, 21, 18)  # of the caption, the first in which it fits
ROW = 1.15  # of the size, between lines


def write_bar(image: Image.Image, moment: Moment, caption: str, tempo: Tempo, words: Words) -> None:
    """Write it; the caption keeps its place whatever the clock says."""
    frame, box = image.size, bar_box(image.size)
    image.paste(caption_strip(frame, caption, caption_room(frame, tempo, words)), (box.x, box.y))
    spot = (box.width - scaled(frame, EDGE), clock_middle(frame))
    face = font(scaled(frame, CLOCK), bold=True)
    ImageDraw.Draw(image).text(spot, clock(moment, words), PAPER, face, anchor="rm")


def clock_middle(frame: Size) -> float:
    """[pixels] height of the clock's middle on the frame."""
    box = bar_box(frame)
    return box.y + box.height * (0.75 if is_tall(frame) else 0.5)


def caption_room(frame: Size, tempo: Tempo, words: Words) -> Box:
    """The part of the bar that the caption may fill; from the bar's corner."""
    box, edge = bar_box(frame), scaled(frame, EDGE)
    if is_tall(frame):
        return Box(edge, 0, box.width - 2 * edge, round(0.55 * box.height))
    bold = font(scaled(frame, CLOCK), bold=True)
    speeds = (0.0, 1.0, 1.0 / tempo.slow, tempo.quick)
    clocks = [clock(Moment(88.88, speed, "run"), words) for speed in speeds]
    wide = box.width - 3 * edge - round(max(bold.getlength(text) for text in clocks))
    return Box(edge, 0, wide, box.height)


@lru_cache(maxsize=4)
def caption_strip(frame: Size, caption: str, room: Box) -> Image.Image:
    """The bar without its clock; kept, because it stays for the whole film."""
    box = bar_box(frame)
    strip = Image.new("RGB", (box.width, box.height), DUSK)
    size, lines = fitted_lines(caption, room, frame)
    middle, draw = room.y + room.height / 2, ImageDraw.Draw(strip)
    for k, line in enumerate(lines):
        spot = (room.x, middle + ROW * size * (k - (len(lines) - 1) / 2))
        draw.text(spot, line, DIM, font(size), anchor="lm")
    return strip


def fitted_lines(caption: str, room: Box, frame: Size) -> tuple[int, list[str]]:
    """The largest size [pixels] at which a caption fits its room, and its lines at that size.

    The next smaller one, if that saves a line. No lines where it does not fit at any size.
    """
    sizes = [scaled(frame, wanted) for wanted in SIZES]
    tries = [(size, wrapped(caption, size, room.width)) for size in sizes]
    fitting = [(size, lines) for size, lines in tries if fits(lines, size, room)]
    return min(fitting[:2], key=lambda found: len(found[1]), default=(sizes[-1], []))


def fits(lines: list[str], size: int, room: Box) -> bool:
    """Whether lines of that size [pixels] stay inside."""
    widest = max((font(size).getlength(line) for line in lines), default=0.0)
    return ROW * size * len(lines) <= room.height and widest <= room.width


def clock(moment: Moment, words: Words) -> str:
    """The time of the record and how fast it runs."""
    return f"{words.say('clock', time=f'{moment.time:.2f}')}   {speed_words(moment, words)}"


def speed_words(moment: Moment, words: Words) -> str:
    """How fast the clock runs."""
    if moment.speed == 0.0:
        return words.say("frozen")
    if moment.speed == 1.0:
        return words.say("real_time")
    if moment.speed < 1.0:
        return words.say("slower", factor=f"{1.0 / moment.speed:.3g}")
    return words.say("faster", factor=f"{moment.speed:.3g}")
