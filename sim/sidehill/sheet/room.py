"""How much goes onto page one: lines of 9 pt on the shorter of the two papers, counted in letters.

The widths are those of a narrow sans serif, the wider of the usual ones; the tests print pages
and look whether it is one.
"""

from collections.abc import Iterable, Sequence
from math import ceil

LINES = 75.2  # of 9 pt, spaced 1.1, between the margins of a Letter page
_WIDE, _BESIDE, _WAY, _COST = 130, 104, 34, 46  # letters in a line of each kind of text
_ENOUGH, _BOTH, _RIGHT = 25, 50, 47
_ROW = 0.34  # of a line, around a row of the table
_HEADS = 3.9  # title, and the two rows that name groups
_TABLE_HEAD, _UP_AND_DOWN, _LEGEND, _CAUTION = 3.2, 2.3, 2.3, 2.8
_DRAWING = 9.0  # lines beside which it stands
_HEADING = 1.4  # of a part


def lines(text: str, letters: int) -> int:
    """Lines that a text takes."""
    return max(1, ceil(len(text) / letters))


def top(question: str, answer: Iterable[str]) -> float:
    """Question and answer beside the drawing."""
    text = lines(question, _BESIDE) + sum(lines(line, _BESIDE) + 0.1 for line in answer)
    return _HEADS + max(text + 1.0, _DRAWING)


def way(what: str, costs: str) -> float:
    """One row of the table of ways."""
    return max(lines(what, _WAY), lines(costs, _COST), 2) + _ROW


def bottom(
    enough: Sequence[Sequence[str]], asks: Sequence[str], paragraphs: Sequence[str]
) -> float:
    """The two columns under the table, and what stands under both.

    Args:
        enough: cells of each row.
    """
    left = _HEADING + 1.25 + 2.15
    for cells in enough:
        letters = _ENOUGH if len(cells) > 1 else _BOTH
        left += max(lines(cell, letters) for cell in cells) + 0.27
    right = _HEADING + lines("     ".join(asks), _RIGHT)
    return max(left, right) + sum(lines(text, _WIDE) + 0.15 for text in paragraphs)


def is_one_page(head: float, ways: Iterable[float], foot: float) -> bool:
    """Whether all of it goes onto one page."""
    fixed = _TABLE_HEAD + _UP_AND_DOWN + _LEGEND + _CAUTION
    return head + sum(ways) + foot + fixed <= LINES
