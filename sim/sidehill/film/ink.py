"""Colours, fonts and text that is made to fit."""

from functools import lru_cache
from pathlib import Path

import matplotlib
from PIL import Image, ImageDraw, ImageFont

Colour = tuple[int, int, int]

PLUM, DUSK = (58, 30, 52), (34, 19, 31)  # panels; the bar and the end card
PAPER, DIM = (246, 243, 247), (198, 186, 196)  # text
FILL = (178, 120, 166)  # a wheel's load
# over; a wheel up; a good result; nothing known
ALARM, AMBER, GOOD, UNKNOWN = (255, 92, 72), (255, 176, 32), (104, 196, 170), (150, 150, 158)
VEIL = 205  # opacity of a panel, of 255
FINER = 3  # badges are drawn that much larger, then reduced
SMALL = 0.82  # of a title, in which what stands beside it is written
LEAST = 0.72  # of its size, to which a text is made smaller before it is cut

FONTS = Path(matplotlib.get_data_path()) / "fonts" / "ttf"  # ships with matplotlib: same everywhere


@lru_cache(maxsize=64)
def font(size: int, bold: bool = False) -> ImageFont.FreeTypeFont:
    """The typeface at a height [pixels]."""
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    return ImageFont.truetype(str(FONTS / name), size, layout_engine=ImageFont.Layout.BASIC)


def fitted(text: str, size: int, width: float, bold: bool = False) -> tuple[str, int]:
    """The text and a size at which it is no wider than `width` [pixels]; cut if it must be."""
    least = max(round(LEAST * size), 8)
    while size > least and font(size, bold).getlength(text) > width:
        size -= 1
    while len(text) > 1 and font(size, bold).getlength(text) > width:
        text = text.rstrip("…")[:-1].rstrip() + "…"
    return text, size


def is_cut(text: str, size: int, width: float, bold: bool = False) -> bool:
    """Whether `fitted` can only show a part of the text."""
    return fitted(text, size, width, bold)[0] != text


def wrapped(text: str, size: int, width: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than `width` [pixels]; a longer word stands alone."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and font(size, bold).getlength(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def panel(image: Image.Image, box: tuple[int, int, int, int], colour: Colour = PLUM) -> None:
    """A veil over a part of the picture, so that text on it can be read."""
    area = image.crop(box)
    image.paste(Image.blend(area, Image.new("RGB", area.size, colour), VEIL / 255), box)


def pill(
    image: Image.Image, x: int, y: int, text: str, size: int, ink: Colour, width: float
) -> int:
    """A text on its own panel, upper left corner at (x, y), in as many lines as it needs.

    Returns its height [pixels].
    """
    letters = lettering(text, size, width)
    panel(image, (x, y, x + letters.width, y + letters.height), DUSK)
    image.paste(Image.new("RGB", letters.size, ink), (x, y), letters)
    return letters.height


@lru_cache(maxsize=64)
def lettering(text: str, size: int, width: float) -> Image.Image:
    """The letters of a pill as a mask; kept, because a pill stays for many frames."""
    pad, row, face = round(0.35 * size), round(1.2 * size), font(size, bold=True)
    lines = wrapped(text, size, width - 2 * pad, bold=True)
    wide = round(max(face.getlength(line) for line in lines)) + 2 * pad
    mask = Image.new("L", (wide, row * len(lines) + pad), 0)
    draw = ImageDraw.Draw(mask)
    for k, line in enumerate(lines):
        draw.text((pad, pad / 2 + row * (k + 0.5)), line, 255, face, anchor="lm")
    return mask
