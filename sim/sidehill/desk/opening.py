"""A machine file that somebody opens: checked, and put into the desk's folder."""

import re
from pathlib import Path

from sidehill.desk.names import inside
from sidehill.files.errors import InputError
from sidehill.files.whole import write_file
from sidehill.machine.file import load_machine


def open_machine(folder: Path, name: str, text: str) -> str:
    """The name under which it lies in the folder now.

    A file of that name with another content stays as it is: the new one gets a number.

    Raises:
        InputError: a name or a content that is no machine file's: file, line, field, value.
    """
    stem = re.sub(r"[^A-Za-z0-9 _-]+", "-", Path(name).stem).strip(" -_")[:34] or "opened"
    content = text.encode("utf-8")
    path = _free_path(folder, stem, content)
    is_new = not path.exists()
    if is_new:
        write_file(path, content)
    try:
        load_machine(path)
    except InputError as error:
        if is_new:
            path.unlink()
        raise InputError(str(error).replace(str(path), name[:60])) from None
    return path.name


def _free_path(folder: Path, stem: str, content: bytes) -> Path:
    """Where it lies already, or where it can lie."""
    for number in range(1, 100):
        path = inside(folder, f"{stem}{'' if number == 1 else f'-{number}'}.toml")
        if not path.exists() or path.read_bytes() == content:
            return path
    raise InputError(f"{stem}.toml: there are too many files of that name in the desk's folder")
