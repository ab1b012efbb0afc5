"""Work of which only the newest counts, in a thread of its own."""

from collections.abc import Callable
from threading import Condition, Thread
from typing import Generic, TypeVar

Item = TypeVar("Item")


class Latest(Generic[Item]):
    """Does the work on the newest item that it was given; those it did not get to are left out."""

    def __init__(self, name: str, work: Callable[[Item], None]) -> None:
        self._work = work
        self._items: list[Item] = []
        self._changed = Condition()
        self._is_ending = False
        self._thread = Thread(target=self._run, name=name, daemon=True)
        self._thread.start()

    def give(self, item: Item) -> None:
        """Have it worked on next."""
        with self._changed:
            self._items = [item]
            self._changed.notify()

    @property
    def is_waiting(self) -> bool:
        """Whether something newer waits."""
        with self._changed:
            return bool(self._items)

    def end(self) -> None:
        """Work on what waits, and stop."""
        with self._changed:
            self._is_ending = True
            self._changed.notify()
        self._thread.join(timeout=10.0)

    def _run(self) -> None:
        while True:
            with self._changed:
                while not self._items and not self._is_ending:
                    self._changed.wait()
                if not self._items:
                    return
                item = self._items.pop()
            self._work(item)
