"""The cards of a film: before it, what is shown; after it, what came out, and the caution.

Written as large as they fit: they are read from the back of a room.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PIL import Image, ImageDraw, ImageEnhance

from sidehill.files.errors import InputError
from sidehill.film.grid import Size, scaled
from sidehill.film.ink import DIM, PAPER, Colour, font, wrapped
from sidehill.film.mark import place_mark
from sidehill.film.pane import Pane
from sidehill.film.speech import figures, result_ink, result_words
from sidehill.film.words import Words

BACKGROUND = 0.2  # brightness of the frame behind a card
EDGE = 44  # on a frame whose shorter side is 720, as all sizes here
MARK = 120  # height of the mark, and of its band
HEAD, BODY, FOOT = 34, 27, 20  # titles and outcomes; figures and caution; where numbers are from
LARGEST, LEAST, STEP = 2.0, 0.76, 0.04  # times these sizes that are tried
ROW = 1.28  # of the size, from line to line


@dataclass(frozen=True)
class Line:
    """A line of a card."""

    text: str
    size: int  # [pixels]
    bold: bool
    ink: Colour
    above: int  # [pixels] free before it


Lines = list[Line]
Card = Callable[[float, Size], Lines]  # its lines, so many times the usual size


def written(
    text: str, frame: Size, size: float, ink: Colour, bold: bool = False, above: float = 0.0
) -> Lines:
    """A text in as many lines as it needs."""
    pixels = scaled(frame, size)
    rows = wrapped(text, pixels, frame[0] - 2 * scaled(frame, EDGE), bold)
    gaps = [scaled(frame, above) if above and k == 0 else 0 for k in range(len(rows))]
    return [Line(row, pixels, bold, ink, gap) for row, gap in zip(rows, gaps, strict=True)]


def outcome_card(panes: Sequence[Pane], caption: str, words: Words) -> Card:
    """What came of every run."""

    def lines(times: float, frame: Size) -> Lines:
        found: Lines = []
        for k, pane in enumerate(panes):
            head, body = times * HEAD, times * BODY
            found += written(pane.title, frame, head, PAPER, True, 0.7 * head if k else 0.0)
            found += written(result_words(pane, words), frame, head, result_ink(pane), True)
            found += written(figures(pane, words), frame, body, DIM)
        return found + written(caption, frame, times * BODY, PAPER, above=times * BODY)

    return lines


def caution_card(panes: Sequence[Pane], words: Words) -> Card:
    """The caution, and where the numbers come from."""
    origins = dict.fromkeys((pane.machine, pane.source) for pane in panes)

    def lines(times: float, frame: Size) -> Lines:
        found = written(words.say("caution"), frame, times * HEAD, PAPER, bold=True)
        for k, (machine, source) in enumerate(origins):
            text = words.say("source", machine=machine, source=source)
            found += written(text, frame, times * FOOT, DIM, above=0.0 if k else times * HEAD)
        return found

    return lines


def opening_card(panes: Sequence[Pane], caption: str) -> Card:
    """What is to be seen."""

    def lines(times: float, frame: Size) -> Lines:
        found: Lines = []
        for k, pane in enumerate(panes):
            found += written(pane.title, frame, times * HEAD, PAPER, True, 0.5 * HEAD if k else 0.0)
        return found + written(caption, frame, times * BODY, DIM, above=times * HEAD)

    return lines


def laid_out(card: Card, frame: Size, mark: Image.Image | None) -> Lines:
    """The lines of a card at the largest size at which all of them fit.

    Raises:
        InputError: they fit at none.
    """
    wide = frame[0] - 2 * scaled(frame, EDGE)
    times = LARGEST
    while times >= LEAST:
        lines = card(times, frame)
        widest = max(font(line.size, line.bold).getlength(line.text) for line in lines)
        if height_of(lines) <= room(frame, mark) and widest <= wide:
            return lines
        times -= STEP
    raise InputError(
        f"size {frame[0]}x{frame[1]}: what stands on the film's cards does not fit; "
        "take a larger size, fewer panes, or shorter titles"
    )


def room(frame: Size, mark: Image.Image | None) -> int:
    """[pixels] height for the lines of a card."""
    return frame[1] - 2 * scaled(frame, EDGE) - (scaled(frame, MARK) if mark else 0)


def height_of(lines: Lines) -> int:
    """[pixels] of lines one below the other."""
    return sum(round(ROW * line.size) + line.above for line in lines)


def draw_card(frame: Image.Image, card: Card, mark: Image.Image | None) -> Image.Image:
    """A card over a frame; what is left of its height is shared above and below the lines."""
    lines, edge = laid_out(card, frame.size, mark), scaled(frame.size, EDGE)
    image, y = ImageEnhance.Brightness(frame).enhance(BACKGROUND), edge
    if mark is not None:
        high = scaled(frame.size, MARK)
        place_mark(image, mark, edge, y, image.width - 2 * edge, round(0.85 * high))
        y += high
    draw = ImageDraw.Draw(image)
    y += (room(frame.size, mark) - height_of(lines)) // 2
    for line in lines:
        y += line.above
        draw.text((edge, y), line.text, line.ink, font(line.size, line.bold))
        y += round(ROW * line.size)
    return image
