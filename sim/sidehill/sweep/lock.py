"""One sweep at a time in a folder: a lock that the system lets go of with its process."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sidehill.files.errors import InputError
from sidehill.files.whole import refuse_unprintable

NAME = ".lock"


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold the folder. The lock of a process that is dead is no lock.

    Raises:
        InputError: another sweep is at work in it.
    """
    refuse_unprintable(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        file = (folder / NAME).open("a+")
    except OSError as error:
        reason = error.strerror or error
        raise InputError(f"{folder}: cannot be written to as a folder ({reason})") from None
    with file:
        try:
            _take(file.fileno())
        except OSError:
            file.seek(0)
            who = file.read(80).strip() or "unknown"
            raise InputError(
                f"{folder}: another sweep is at work here (process {who}); wait for it, or give "
                "another --out"
            ) from None
        with suppress(OSError):  # it only tells others whom to wait for
            file.truncate(0)
            file.write(f"{os.getpid()}")
            file.flush()
        yield


if sys.platform == "win32":
    import msvcrt

    def _take(number: int) -> None:
        os.lseek(number, 1024, os.SEEK_SET)  # clear of what is read above
        msvcrt.locking(number, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(number: int) -> None:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
