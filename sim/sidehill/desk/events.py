"""News for every open page, as server-sent events."""

import asyncio
import json
from collections.abc import AsyncIterator
from threading import Lock
from typing import Any

MOST_WAITING = 200  # news that a page has not taken: then it begins anew
QUIET = 15.0  # [s] after which a line is sent so that both ends know of each other
_GONE = None


class Hub:
    """Whoever has news says it here, in any thread; each open page gets all of it."""

    def __init__(self) -> None:
        self._pages: dict[asyncio.Queue[str | None], asyncio.AbstractEventLoop] = {}
        self._lock = Lock()

    def say(self, kind: str, **news: Any) -> None:
        """Tell every page."""
        text = json.dumps({"kind": kind, **news})
        with self._lock:
            pages = list(self._pages.items())
        for queue, loop in pages:
            if not loop.is_closed():
                loop.call_soon_threadsafe(_put, queue, text)

    def end(self) -> None:
        """Let every page go."""
        with self._lock:
            pages = list(self._pages.items())
        for queue, loop in pages:
            if not loop.is_closed():
                loop.call_soon_threadsafe(queue.put_nowait, _GONE)

    @property
    def pages(self) -> int:
        """How many are open."""
        with self._lock:
            return len(self._pages)

    async def listen(self) -> AsyncIterator[str]:
        """The news of one page, as lines of an event stream."""
        queue: asyncio.Queue[str | None] = asyncio.Queue(MOST_WAITING + 1)
        with self._lock:
            self._pages[queue] = asyncio.get_running_loop()
        try:
            yield ": hello\n\n"
            while True:
                try:
                    text = await asyncio.wait_for(queue.get(), QUIET)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                if text is _GONE:
                    return
                yield f"data: {text}\n\n"
        finally:
            with self._lock:
                self._pages.pop(queue, None)


def _put(queue: "asyncio.Queue[str | None]", text: str) -> None:
    """A page that takes nothing any more is asked to look again, not waited for."""
    if queue.qsize() >= MOST_WAITING:
        while not queue.empty():
            queue.get_nowait()
        text = json.dumps({"kind": "again"})
    queue.put_nowait(text)
