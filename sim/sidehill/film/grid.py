"""Where things go on a frame, in pixels; every size grows with the frame's shorter side."""

from dataclasses import dataclass

GUTTER = 4  # [pixels] between panes
BAR = 0.08  # of the shorter side, for caption and clock; of a tall frame for each of them
TITLE, STATUS, BADGE = 32, 29, 148  # on a frame whose shorter side is 720
DIFFERS = 24  # what tells the machines apart
BADGE_SHARE = 0.48  # of a picture's height, at most
MANY = 0.84  # of those sizes, with more than two panes
COLUMNS = {1: 1, 2: 2, 3: 3, 4: 2}
TALL_COLUMNS = {1: 1, 2: 1, 3: 1, 4: 2}  # four beside and below each other show the most

Size = tuple[int, int]  # [pixels] of a frame


@dataclass(frozen=True)
class Box:
    """A part of the frame."""

    x: int
    y: int
    width: int
    height: int

    @property
    def corners(self) -> tuple[int, int, int, int]:
        """Left, top, right, bottom."""
        return self.x, self.y, self.x + self.width, self.y + self.height


def scaled(frame: Size, size: float) -> int:
    """[pixels] of something that is `size` high on a frame whose shorter side is 720."""
    return max(round(size * min(frame) / 720), 1)


def is_tall(frame: Size) -> bool:
    """Whether a frame is no wider than high; a square one is."""
    return frame[1] >= frame[0]


def bar_box(frame: Size) -> Box:
    """The strip at the bottom."""
    width, height = frame
    high = 2 * round(BAR * min(frame) * (2 if is_tall(frame) else 1) / 2)
    return Box(0, height - high, width, high)


def pane_boxes(frame: Size, count: int) -> list[Box]:
    """The panes, in reading order; even sizes, whatever is left over is gutter."""
    columns = (TALL_COLUMNS if is_tall(frame) else COLUMNS)[count]
    rows = -(-count // columns)
    width, height = frame[0], bar_box(frame).y
    wide = (width - GUTTER * (columns - 1)) // columns // 2 * 2
    high = (height - GUTTER * rows) // rows // 2 * 2
    return [
        Box((k % columns) * (wide + GUTTER), (k // columns) * (high + GUTTER), wide, high)
        for k in range(count)
    ]


def text_size(frame: Size, count: int, wanted: float) -> int:
    """[pixels] of a text on a pane; smaller where many panes share the frame."""
    return scaled(frame, wanted if count <= 2 else MANY * wanted)


def strip_height(frame: Size, count: int, rows: int) -> int:
    """[pixels] of the title strip of a pane, in 1 or 2 rows; even."""
    return 2 * round((0.83, 1.38)[rows - 1] * text_size(frame, count, TITLE))


def badge_boxes(frame: Size, picture: Box) -> tuple[Box, Box]:
    """The badges in the lower corners of a pane's picture."""
    side = min(scaled(frame, BADGE), round(BADGE_SHARE * picture.height)) // 2 * 2
    gap = side // 12
    y = picture.y + picture.height - side - gap
    right = picture.x + picture.width - gap - side
    return Box(picture.x + gap, y, side, side), Box(right, y, side, side)


def picture_box(pane: Box, strip: int) -> Box:
    """The part of a pane below its title."""
    return Box(pane.x, pane.y + strip, pane.width, pane.height - strip)
