"""Files written whole or not at all, also when the power goes."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from sidehill.errors import SidehillError

ENDING = ".writing"


@contextmanager
def writing(path: Path) -> Iterator[BinaryIO]:
    """A file to write, which takes its place once it is complete and on the disk.

    Raises:
        SidehillError: it cannot be written; what was there before still is.
    """
    part = path.with_name(path.name + ENDING)
    try:
        try:
            part.parent.mkdir(exist_ok=True)
            with part.open("wb") as file:
                yield file
                file.flush()
                os.fsync(file.fileno())
            part.replace(path)
        except BaseException:
            part.unlink(missing_ok=True)
            raise
    except OSError as error:
        raise SidehillError(
            f"{path}: cannot be written ({error.strerror or error}); what was finished before is "
            "kept: once there is room, the same command goes on from there"
        ) from None
