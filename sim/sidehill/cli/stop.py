"""Being asked to stop: Ctrl-C, SIGTERM, a terminal that goes away. The command leaves in order,
workers ended and part files removed."""

import signal
import sys
from functools import partial
from types import FrameType
from typing import NoReturn

LOADER = "llvmlite"  # calls back while it loads kernels, and what is raised there is dropped
AGAIN = 0.05  # [s] after which it is asked again


def heed_stops() -> None:
    """Leave when asked to, but not what is ignored, as the terminal is under nohup."""
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)  # no SIGHUP on Windows
        if number and signal.getsignal(number) != signal.SIG_IGN:
            signal.signal(number, _stop)


def _stop(number: int, frame: FrameType | None) -> None:
    if _is_loading(frame) and hasattr(signal, "setitimer"):
        signal.signal(signal.SIGALRM, partial(_stop_later, number))
        signal.setitimer(signal.ITIMER_REAL, AGAIN)
        return
    _leave(number)


def _stop_later(number: int, _: int, frame: FrameType | None) -> None:
    _stop(number, frame)


def _leave(number: int) -> NoReturn:
    if number == signal.SIGINT:
        raise KeyboardInterrupt
    sys.exit(128 + number)


def _is_loading(frame: FrameType | None) -> bool:
    """Whether the kernel loader is at work further up."""
    while frame is not None:
        if str(frame.f_globals.get("__name__", "")).partition(".")[0] == LOADER:
            return True
        frame = frame.f_back
    return False
