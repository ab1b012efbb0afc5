"""The last picture of a film: what came out, and the caution."""

from PIL import Image, ImageDraw, ImageEnhance

from sidehill.film.grid import scaled
from sidehill.film.ink import DIM, DUSK, PAPER, fitted, font, wrapped
from sidehill.film.pane import Pane
from sidehill.film.speech import figures, result_ink, result_words
from sidehill.film.words import Words

BACKGROUND = 0.2  # brightness of the last frame behind the card


def draw_card(
    frame: Image.Image, panes: tuple[Pane, ...], caption: str, words: Words
) -> Image.Image:
    """The card over the last frame."""
    height = frame.height
    image = ImageEnhance.Brightness(frame).enhance(BACKGROUND)
    draw = ImageDraw.Draw(image)
    edge, y = scaled(height, 48), scaled(height, 40)
    for pane in panes:
        y = write_row(draw, pane, edge, y, image.width - 2 * edge, words)
    size = scaled(height, 25)
    wide = image.width - 2 * edge
    small = [caption] if caption else []
    origins = dict.fromkeys((pane.machine, pane.source) for pane in panes)
    small += [words.say("source", machine=machine, source=source) for machine, source in origins]
    below = [line for text in small for line in wrapped(text, size, wide)]
    caution = wrapped(words.say("caution"), scaled(height, 28), wide - size, bold=True)
    top = height - edge // 2 - len(caution) * scaled(height, 37) - size
    draw.rectangle((edge // 2, top, image.width - edge // 2, height - edge // 3), DUSK)
    for k, line in enumerate(caution):
        spot = (edge, top + size // 2 + k * scaled(height, 37))
        draw.text(spot, line, PAPER, font(scaled(height, 28), bold=True))
    for k, line in enumerate(below):
        spot = (edge, top - (len(below) - k) * scaled(height, 33) - size // 4)
        draw.text(spot, line, DIM, font(size))
    return image


def write_row(
    draw: ImageDraw.ImageDraw, pane: Pane, x: int, y: int, width: int, words: Words
) -> int:
    """Title and result of a pane, its figures below; returns where the next row begins."""
    height = draw.im.size[1]
    size = scaled(height, 31)
    title, shown = fitted(pane.title, size, 0.47 * width, bold=True)
    draw.text((x, y), title, PAPER, font(shown, bold=True))
    result, shown = fitted(result_words(pane, words), size, 0.49 * width, bold=True)
    draw.text((x + 0.5 * width, y), result, result_ink(pane), font(shown, bold=True))
    line, small = fitted(figures(pane, words), scaled(height, 24), width)
    draw.text((x, y + 1.45 * size), line, DIM, font(small))
    draw.line((x, y + 2.65 * size, x + width, y + 2.65 * size), DIM, 1)
    return y + round(2.95 * size)
