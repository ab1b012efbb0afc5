"""The strip at the bottom of a frame: caption to the left, clock and speed to the right."""

from PIL import Image, ImageDraw

from sidehill.film.clock import QUICK, Moment
from sidehill.film.grid import bar_box, scaled
from sidehill.film.ink import DIM, DUSK, PAPER, font, wrapped
from sidehill.film.show import Show
from sidehill.film.words import Words

CLOCK, EDGE = 28, 16  # sizes on a frame 720 high
SIZES = (28, 24, 21, 18)  # of the caption, the first in which it fits
ROW = 1.15  # of the size, between lines


def write_bar(image: Image.Image, moment: Moment, show: Show) -> None:
    """Write it; the caption keeps its place whatever the clock says."""
    box, words = bar_box(image.size), show.words
    draw = ImageDraw.Draw(image)
    draw.rectangle(box.corners, DUSK)
    bold, edge = font(scaled(image.height, CLOCK), bold=True), scaled(image.height, EDGE)
    middle = box.y + box.height / 2
    draw.text((box.width - edge, middle), clock(moment, words), PAPER, bold, anchor="rm")
    speeds = (0.0, 1.0, 1.0 / show.slow, QUICK)
    clocks = [clock(Moment(88.88, speed, "run"), words) for speed in speeds]
    room = box.width - 3 * edge - max(bold.getlength(text) for text in clocks)
    size, lines = fitted_lines(show.caption, room, box.height, image.height)
    for k, line in enumerate(lines):
        spot = (edge, middle + ROW * size * (k - (len(lines) - 1) / 2))
        draw.text(spot, line, DIM, font(size), anchor="lm")


def fitted_lines(caption: str, width: float, height: int, frame: int) -> tuple[int, list[str]]:
    """The largest size [pixels] at which a caption fits a space, and its lines at that size.

    The next smaller one, if that saves a line.
    """
    sizes = [scaled(frame, wanted) for wanted in SIZES]
    tries = [(size, wrapped(caption, size, width)) for size in sizes]
    fitting = [(size, lines) for size, lines in tries if ROW * size * len(lines) <= height]
    return min((fitting or tries[-1:])[:2], key=lambda found: len(found[1]))


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
