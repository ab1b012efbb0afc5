"""Files that commands write: the folder made sure of first, each file whole or not at all."""

import os
import tempfile
from pathlib import Path

from sidehill.errors import InputError, SidehillError


def ready_folder(folder: Path) -> Path:
    """The folder, made if need be and known to be writable, before anything is computed.

    Raises:
        InputError: it is a file, or cannot be made or written to.
    """
    if folder.exists() and not folder.is_dir():
        raise InputError(f"{folder}: a file, not a folder; give --out a folder")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        raise InputError(f"{folder}: cannot be written to ({error.strerror or error})") from None
    return folder


def ready_file(path: Path, ending: str) -> Path:
    """The path of a file to come, its folder made sure of.

    Raises:
        InputError: it is a folder, has another ending, or cannot be written.
    """
    if path.is_dir():
        raise InputError(f"{path}: a folder; give the name of a file ending in {ending}")
    if path.suffix != ending:
        raise InputError(f"{path}: the name must end in {ending}")
    ready_folder(path.parent)
    return path


def write_file(path: Path, data: bytes) -> Path:
    """Write a file, whole or not at all.

    Raises:
        SidehillError: the place cannot be written.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        try:
            part.write_bytes(data)
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise SidehillError(f"{path}: cannot be written ({error.strerror or error})") from None
    return path
