"""An executor that is interrupted."""

from concurrent.futures import Executor, Future
from typing import Any


class Stop(Executor):
    """Does so many chunks here, then is interrupted."""

    def __init__(self, after: int) -> None:
        self.left = after

    def submit(self, function: Any, /, *values: Any, **named: Any) -> "Future[Any]":
        if not self.left:
            raise KeyboardInterrupt
        self.left -= 1
        future: Future[Any] = Future()
        future.set_result(function(*values, **named))
        return future
