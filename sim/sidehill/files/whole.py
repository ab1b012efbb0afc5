"""Files that are there whole or not at all, also when the power goes."""

import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from glob import escape
from pathlib import Path
from typing import BinaryIO

from sidehill.files.errors import InputError, SidehillError, printable

MARK = ".writing."  # in the name of a file that is not whole yet; its ending stays its own


@contextmanager
def replacing(path: Path, advice: str = "") -> Iterator[Path]:
    """A file beside `path` to write to; it takes its place once it is on the disk.

    Args:
        advice: what follows in the message where it cannot.

    Raises:
        SidehillError: it cannot be written; what was there before still is.
    """
    part = path.with_name(f".{os.getpid()}{MARK}{path.name}")
    try:
        _refuse_special(path)
        try:
            path.parent.mkdir(exist_ok=True)
            _clear_scraps(path)
            part.touch()
            yield part
            with part.open("rb+") as file:
                os.fsync(file.fileno())
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise SidehillError(
            f"{path}: cannot be written ({error.strerror or error}){advice}"
        ) from None


@contextmanager
def writing(path: Path, advice: str = "") -> Iterator[BinaryIO]:
    """The same as an open file.

    Raises:
        SidehillError: it cannot be written; what was there before still is.
    """
    with replacing(path, advice) as part, part.open("wb") as file:
        yield file


def write_file(path: Path, data: bytes) -> Path:
    """Write a file, whole or not at all.

    Raises:
        SidehillError: the place cannot be written.
    """
    with writing(path) as file:
        file.write(data)
    return path


def ready_file(path: Path, *endings: str) -> Path:
    """The path of a file to come, its folder made sure of before anything is computed.

    Raises:
        InputError: a folder, a device, another ending, or a place that cannot be written to.
    """
    either = " or ".join(endings)
    try:
        if path.is_dir():
            raise InputError(f"{path}: a folder; give the name of a file ending in {either}")
        if path.suffix not in endings:
            raise InputError(f"{path}: the name must end in {either}")
        _refuse_special(path)
    except OSError as error:  # a folder above it may not be entered
        raise InputError(f"{path}: cannot be written ({error.strerror or error})") from None
    ready_folder(path.parent)
    return path


def _clear_scraps(path: Path) -> None:
    """Remove what a killed process left of this file; one that still writes keeps its part."""
    for scrap in path.parent.glob(f".*{MARK}{escape(path.name)}"):
        number = scrap.name[1:].partition(MARK)[0]
        if number.isdecimal() and not _is_running(int(number)):
            scrap.unlink(missing_ok=True)


def _is_running(process: int) -> bool:
    """Whether a process of that number is there; taken to be where the system cannot tell."""
    if sys.platform == "win32":
        return True  # the signal that only asks elsewhere ends a process there
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True  # somebody else's
    return True


def _refuse_special(path: Path) -> None:
    """A pipe or a device would be replaced by a file, and its reader wait for ever."""
    refuse_unprintable(path)
    if path.exists() and not (path.is_file() or path.is_dir()):
        raise InputError(f"{path}: a pipe or a device, not a file; give the name of a file")


def refuse_unprintable(path: Path) -> None:
    """Refuse a name that a terminal would act on, as every report shows it.

    Raises:
        InputError: it has control characters.
    """
    if not str(path).isprintable():
        raise InputError(f"{printable(str(path))}: control characters in a name; give another name")


def ready_folder(folder: Path) -> Path:
    """The folder, made if need be and known to be writable, before anything is computed.

    Raises:
        InputError: it is a file, or cannot be made or written to.
    """
    refuse_unprintable(folder)
    if folder.exists() and not folder.is_dir():
        raise InputError(f"{folder}: a file, not a folder; give a folder")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise InputError(f"{folder}: cannot be written to ({error.strerror or error})") from None
    return folder
