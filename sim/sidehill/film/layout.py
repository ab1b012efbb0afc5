"""Where things go on a frame, in pixels; every size grows with the frame's height."""

from dataclasses import dataclass

GUTTER = 4  # [pixels] between panes
BAR = 0.08  # of the height, for caption and clock
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
