"""Keeps an engine's C++ side from printing among the program's own output."""

import ctypes
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

# by name on Windows; elsewhere what the process has loaded
C_LIBRARY = "ucrtbase" if sys.platform == "win32" else None


@contextmanager
def silence() -> Iterator[None]:
    """Send the two output descriptors nowhere for a while, C buffers included."""
    sink = os.open(os.devnull, os.O_WRONLY)
    keep = {place: os.dup(place) for place in (1, 2)}
    _flush()
    for place in keep:
        os.dup2(sink, place)
    try:
        yield
    finally:
        _flush()
        for place, kept in keep.items():
            os.dup2(kept, place)
            os.close(kept)
        os.close(sink)


def _flush() -> None:
    """Empty the C library's output buffers where they now lead."""
    ctypes.CDLL(C_LIBRARY).fflush(None)
