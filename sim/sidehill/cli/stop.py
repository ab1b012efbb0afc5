"""Being asked to stop: Ctrl-C, SIGTERM, a terminal that goes away. The command leaves in order,
workers ended and part files removed, however often it is asked."""

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from time import monotonic
from types import FrameType

LOADER = "llvmlite"  # calls back while it loads kernels, and what is raised there is dropped
AGAIN = 0.05  # [s] after which it is asked again
LEAVING = 5.0  # [s] left to itself once it was stopped; then a stop counts again: one can get lost


@contextmanager
def heeded_stops() -> Iterator[None]:
    """Leave when asked to, but not what is ignored, as the terminal is under nohup.

    Past it every stop is ignored: Python gives signals back to the system before it has ended,
    and a second one would then end it as killed (-2), not as stopped (130).
    """
    names = ("SIGINT", "SIGTERM", "SIGHUP")
    numbers = [getattr(signal, name) for name in names if hasattr(signal, name)]  # not all: Windows
    stop = _Stop()
    for number in numbers:
        if signal.getsignal(number) != signal.SIG_IGN:
            signal.signal(number, stop)
    try:
        yield
    finally:
        for number in numbers:
            signal.signal(number, signal.SIG_IGN)
        if hasattr(signal, "setitimer"):
            signal.setitimer(signal.ITIMER_REAL, 0.0)  # nobody is left to ask again


class _Stop:
    """Heeds the first stop, and the next ones once it should long have left."""

    def __init__(self) -> None:
        self.heeded = -LEAVING  # [s] when

    def __call__(self, number: int, frame: FrameType | None) -> None:
        if _is_loading(frame) and hasattr(signal, "setitimer"):
            signal.signal(signal.SIGALRM, partial(self._later, number))
            signal.setitimer(signal.ITIMER_REAL, AGAIN)
        elif monotonic() - self.heeded >= LEAVING:
            self.heeded = monotonic()
            # no KeyboardInterrupt: `python -m` ends as killed if one passed an `exec`, as there is
            # in every dataclass that is being loaded, whatever was made of it later
            sys.exit(128 + number)

    def _later(self, number: int, _: int, frame: FrameType | None) -> None:
        self(number, frame)


def _is_loading(frame: FrameType | None) -> bool:
    """Whether the kernel loader is at work further up."""
    while frame is not None:
        if str(frame.f_globals.get("__name__", "")).partition(".")[0] == LOADER:
            return True
        frame = frame.f_back
    return False
