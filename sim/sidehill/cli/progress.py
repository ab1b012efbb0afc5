"""What is going on, on a terminal's standard error, once it has taken over a second."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Timer

from rich.text import Text

from sidehill.cli.console import err
from sidehill.kernels.jit import CACHE_FOLDER

PATIENCE = 1.0  # [s]


@contextmanager
def progress(doing: str) -> Iterator[Callable[[str], None]]:
    """Show a line while the work goes on; call what is yielded to change it.

    The first run on a machine compiles the physics, which nothing can report on: say so.
    """
    console = err()
    first = "" if is_compiled() else " (first run here: compiling the physics, about 20 s)"
    status = console.status(Text(doing + first))  # names of a file are no markup
    timer = Timer(PATIENCE, status.start)
    if console.is_terminal:
        timer.start()
    try:
        yield lambda words: status.update(Text(words))
    finally:
        timer.cancel()
        if timer.ident is not None:
            timer.join()
        status.stop()


def is_compiled() -> bool:
    """Whether compiled kernels lie in the cache: its folders are made before anything is."""
    return CACHE_FOLDER is not None and any(CACHE_FOLDER.rglob("*.nbi"))
