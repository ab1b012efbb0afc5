"""Frames drawn side by side, handed back in order.

By threads: the kernels that take the time hold no lock of the interpreter.
"""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor

from PIL import Image

from sidehill.film.clock import Moment
from sidehill.film.frame import draw_frame
from sidehill.film.show import Show
from sidehill.workers import cores

AHEAD = 2  # frames under way for each thread: bounds the memory

Pack = Callable[[Image.Image], bytes]  # a frame as a file of some kind takes it


def drawn(show: Show, moments: Sequence[Moment], pack: Pack, workers: int) -> Iterator[bytes]:
    """The packed frame of every moment, in order, by that many threads."""

    def draw(moment: Moment) -> bytes:
        return pack(draw_frame(show, moment))

    waiting: deque[Future[bytes]] = deque()
    crew = ThreadPoolExecutor(workers)
    try:
        for moment in moments:
            waiting.append(crew.submit(draw, moment))
            if len(waiting) >= workers * AHEAD:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        crew.shutdown(cancel_futures=True)  # stopped early, nobody waits for the rest


def crew_size(workers: int | None) -> int:
    """How many threads: as asked, else one a core."""
    return max(workers or cores(), 1)
