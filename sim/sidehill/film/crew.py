"""Frames drawn by several processes, handed back in order."""

import pickle
import signal
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context

from sidehill.errors import SidehillError
from sidehill.film.clock import Moment
from sidehill.film.frame import draw_frame
from sidehill.film.show import Show
from sidehill.sweep.workers import cores

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
    chunks = iter([moments[k : k + CHUNK] for k in range(0, len(moments), CHUNK)])
    pool = ProcessPoolExecutor(
        workers, get_context("spawn"), initializer=_join, initargs=(pickle.dumps(show),)
    )
    waiting: deque[Future[list[bytes]]] = deque()
    try:
        for chunk in chunks:
            waiting.append(pool.submit(_draw, chunk))
            if len(waiting) >= workers * AHEAD:
                yield from waiting.popleft().result()
        while waiting:
            yield from waiting.popleft().result()
    except BrokenProcessPool:
        raise SidehillError(
            "a drawing process ended early; in a script of your own, call film() below "
            '`if __name__ == "__main__":`, or pass workers=1'
        ) from None
    finally:
        pool.shutdown(cancel_futures=True)


def crew_size(workers: int | None) -> int:
    """How many processes: as asked, else one a core."""
    return max(workers or cores(), 1)


def _join(show: bytes) -> None:
    """Become one of the crew: Ctrl-C is for the one in charge."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _shows[:] = [pickle.loads(show)]


def _draw(moments: Sequence[Moment]) -> list[bytes]:
    return [draw_frame(_shows[0], moment).tobytes() for moment in moments]
