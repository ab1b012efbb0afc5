"""Files that commands write: the place made sure of first, each file whole or not at all."""

from pathlib import Path

from sidehill.errors import InputError
from sidehill.whole import ready_folder, writing


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
    with writing(path) as file:
        file.write(data)
    return path
