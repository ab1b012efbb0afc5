"""Two small pictures in every pane: the wheel loads from above, and what is level."""

from functools import lru_cache
from math import cos, radians, sin

from PIL import Image, ImageDraw

from sidehill.film.ink import AMBER, DIM, DUSK, FILL, FINER, PAPER, PLUM, Colour, font

FULL = 0.5  # share of the machine's weight at which a wheel's bar is full
STEPS = 40  # heights of a bar
STOP = 180.0  # [deg] beyond which the mark turns no further


@lru_cache(maxsize=256)
def loads_badge(
    side: int, bars: tuple[int, ...], lifted: tuple[bool, ...], downhill: float, word: str
) -> Image.Image:
    """The machine from above, nose up; a bar in each wheel is filled with its load.

    Args:
        bars: filled steps of each wheel, 0 to STEPS; order front left, front right, rear ones.
        downhill: +1 if the right side is downhill; word: for the arrow that way.
    """
    n = side * FINER
    image = Image.new("RGB", (n, n), PLUM)
    draw = ImageDraw.Draw(image)
    draw.rounded_rectangle((0.40 * n, 0.05 * n, 0.60 * n, 0.45 * n), 0.03 * n, DUSK, DIM, n // 90)
    draw.rounded_rectangle((0.36 * n, 0.42 * n, 0.64 * n, 0.76 * n), 0.03 * n, DUSK, DIM, n // 90)
    for axle, (y, high) in enumerate(((0.07, 0.26), (0.39, 0.38))):
        draw.line((0.2 * n, (y + high / 2) * n, 0.8 * n, (y + high / 2) * n), DIM, n // 45)
        for across, x in enumerate((0.11, 0.71)):
            wheel = 2 * axle + across
            box = (x * n, y * n, (x + 0.18) * n, (y + high) * n)
            fill = box[3] - (box[3] - box[1]) * bars[wheel] / STEPS
            edge = AMBER if lifted[wheel] else PAPER
            draw.rounded_rectangle(box, 0.03 * n, DUSK)
            draw.rectangle((box[0], fill, box[2], box[3]), FILL)
            draw.rounded_rectangle(box, 0.03 * n, None, edge, n // (28 if lifted[wheel] else 60))
            if lifted[wheel]:
                middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
                draw.text(middle, "0", AMBER, font(round(0.15 * n), bold=True), anchor="mm")
    arrow(draw, n, downhill, word)
    return image.reduce(FINER)


def arrow(draw: ImageDraw.ImageDraw, n: int, downhill: float, word: str) -> None:
    """Which side is downhill, below the machine."""
    y, tip = 0.89 * n, (0.5 + 0.46 * downhill) * n
    size = round(0.125 * n)
    while size > 8 and font(size).getlength(word) > 0.72 * n:
        size -= 1
    base = tip - 0.11 * n * downhill
    draw.polygon([(tip, y), (base, y - 0.06 * n), (base, y + 0.06 * n)], PAPER)
    anchor = "rm" if downhill > 0 else "lm"
    draw.text((base - 0.04 * n * downhill, y), word, PAPER, font(size), anchor=anchor)


@lru_cache(maxsize=256)
def level_badge(side: int, tenths: int, ink: Colour, words: tuple[str, str]) -> Image.Image:
    """The machine from behind, as far over as it is, against a level line.

    Args:
        tenths: [0.1 deg] of roll to the horizon, clockwise positive; ink: of the machine;
        words: level, roll.
    """
    n = side * FINER
    image = Image.new("RGB", (n, n), PLUM)
    draw = ImageDraw.Draw(image)
    middle = 0.52 * n
    draw.line((0.05 * n, middle, 0.95 * n, middle), DIM, n // 60)
    draw.text((0.05 * n, middle - 0.03 * n), words[0], DIM, font(round(0.12 * n)), anchor="lb")
    angle = radians(min(max(tenths / 10.0, -STOP), STOP))
    c, s = cos(angle), sin(angle)

    def turned(*points: tuple[float, float]) -> list[tuple[float, float]]:
        return [(0.62 * n + n * (x * c - y * s), middle + n * (x * s + y * c)) for x, y in points]

    for x in (-0.22, 0.14):
        draw.polygon(turned((x, -0.14), (x + 0.08, -0.14), (x + 0.08, 0.14), (x, 0.14)), ink)
    draw.line(turned((-0.18, 0.0), (0.18, 0.0)), ink, n // 24)
    draw.line(turned((-0.12, 0.0), (-0.12, -0.36), (0.12, -0.36), (0.12, 0.0)), ink, n // 40)
    draw.polygon(turned((-0.08, -0.14), (0.08, -0.14), (0.08, 0.03), (-0.08, 0.03)), ink)
    size = round(0.135 * n)
    while size > 8 and font(size, bold=True).getlength(words[1]) > 0.94 * n:
        size -= 1
    draw.text((0.5 * n, 0.89 * n), words[1], ink, font(size, bold=True), anchor="mm")
    return image.reduce(FINER)
