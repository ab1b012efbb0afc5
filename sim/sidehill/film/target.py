"""A file that is there whole or not at all."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sidehill.errors import InputError, SidehillError

KINDS = (".mp4", ".gif")


def check_target(path: Path) -> None:
    """Refuse a place that cannot be written, before an hour of drawing.

    Raises:
        InputError: a kind of file that is not made here; a folder; a place without write access.
    """
    if path.suffix.lower() not in KINDS:
        raise InputError(f'{path}: a film ends in {" or ".join(KINDS)}, as "bank.mp4"')
    if path.is_dir():
        raise InputError(f"{path}: a folder; name the file in it")
    with replacing(path):
        pass


@contextmanager
def replacing(path: Path) -> Iterator[Path]:
    """A file beside the target to write to; it takes the target's place if it was written.

    Raises:
        InputError: the place cannot be written.
    """
    part = path.with_name(f".{path.stem}.{os.getpid()}{path.suffix.lower()}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part.touch()
    except OSError as error:
        raise InputError(f"{path}: cannot be written ({error.strerror or error})") from None
    try:
        yield part
        if part.stat().st_size > 0:
            part.replace(path)
    except OSError as error:
        raise SidehillError(f"{path}: cannot be written ({error.strerror or error})") from None
    finally:
        part.unlink(missing_ok=True)
