"""Where things go on a frame, in pixels; every size grows with the frame's height."""

from dataclasses import dataclass

GUTTER = 4  # [pixels] between panes
BAR = 0.08  # of the height, for caption and clock
TITLE, STATUS, BADGE = 32, 29, 148  # on a frame 720 high
BADGE_SHARE = 0.48  # of a picture's height, at most
MANY = 0.84  # of those sizes, with more than two panes
COLUMNS = {1: 1, 2: 2, 3: 3, 4: 2}


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


def scaled(height: int, size: float) -> int:
    """[pixels] of something that is `size` high on a frame of 720."""
    return max(round(size * height / 720), 1)


def bar_box(size: tuple[int, int]) -> Box:
    """The strip at the bottom."""
    width, height = size
    high = 2 * round(BAR * height / 2)
    return Box(0, height - high, width, high)


def pane_boxes(size: tuple[int, int], count: int) -> list[Box]:
    """The panes, in reading order; even sizes, whatever is left over is gutter."""
    columns = COLUMNS[count]
    rows = -(-count // columns)
    width, height = size[0], bar_box(size).y
    wide = (width - GUTTER * (columns - 1)) // columns // 2 * 2
    high = (height - GUTTER * rows) // rows // 2 * 2
    return [
        Box((k % columns) * (wide + GUTTER), (k // columns) * (high + GUTTER), wide, high)
        for k in range(count)
    ]


def text_size(size: tuple[int, int], count: int, wanted: float) -> int:
    """[pixels] of a text on a pane; smaller where many panes share the frame."""
    return scaled(size[1], wanted if count <= 2 else MANY * wanted)


def strip_height(size: tuple[int, int], count: int, rows: int) -> int:
    """[pixels] of the title strip of a pane, in 1 or 2 rows; even."""
    return 2 * round((0.83, 1.38)[rows - 1] * text_size(size, count, TITLE))


def badge_boxes(height: int, picture: Box) -> tuple[Box, Box]:
    """The badges in the lower corners of a pane's picture, on a frame that high [pixels]."""
    side = min(scaled(height, BADGE), round(BADGE_SHARE * picture.height)) // 2 * 2
    gap = side // 12
    y = picture.y + picture.height - side - gap
    right = picture.x + picture.width - gap - side
    return Box(picture.x + gap, y, side, side), Box(right, y, side, side)


def picture_box(pane: Box, strip: int) -> Box:
    """The part of a pane below its title."""
    return Box(pane.x, pane.y + strip, pane.width, pane.height - strip)
