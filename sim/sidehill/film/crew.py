"""Frames drawn by several processes, handed back in order."""

from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future
from functools import partial

from sidehill.files.errors import SidehillError
from sidehill.film.clock import Moment
from sidehill.film.frame import draw_frame
from sidehill.film.show import Show
from sidehill.workers import cores, pool

CHUNK = 3  # frames that a process draws at a time
AHEAD = 2  # chunks under way for each process: bounds the memory

_shows: list[Show] = []  # of a process of the crew: what it draws


def drawn(show: Show, moments: Sequence[Moment], workers: int) -> Iterator[bytes]:
    """Packed RGB of every moment, in order, by that many processes; 1: by this one.

    Raises:
        SidehillError: a process was lost.
    """
    if workers == 1:
        for moment in moments:
            yield draw_frame(show, moment).tobytes()
        return
    chunks = [moments[k : k + CHUNK] for k in range(0, len(moments), CHUNK)]
    try:
        with pool(workers, workers, partial(_join, show)) as crew:
            yield from _in_order(crew, chunks, workers * AHEAD)
    except BrokenExecutor:
        raise SidehillError(
            "a drawing process ended early; in a script of your own, call film() below "
            '`if __name__ == "__main__":`, or pass workers=1'
        ) from None


def _in_order(crew: Executor, chunks: Sequence[Sequence[Moment]], ahead: int) -> Iterator[bytes]:
    waiting: deque[Future[list[bytes]]] = deque()
    for chunk in chunks:
        waiting.append(crew.submit(_draw, chunk))
        if len(waiting) >= ahead:
            yield from waiting.popleft().result()
    while waiting:
        yield from waiting.popleft().result()


def crew_size(workers: int | None) -> int:
    """How many processes: as asked, else one a core."""
    return max(workers or cores(), 1)


def _join(show: Show) -> None:
    """Become one of the crew."""
    _shows[:] = [show]


def _draw(moments: Sequence[Moment]) -> list[bytes]:
    return [draw_frame(_shows[0], moment).tobytes() for moment in moments]
