"""Names of files on the desk: plain ones, in its folder and nowhere else."""

import re
from pathlib import Path

from sidehill.files.errors import InputError

NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _-]{0,39}\.(toml|html|mp4|png)")
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)\..*", re.IGNORECASE)


def inside(folder: Path, name: str) -> Path:
    """The path of a file of that name in the folder.

    Raises:
        InputError: a name that leads out of it, or that no file of the desk has.
    """
    if not NAME.fullmatch(name) or _RESERVED.fullmatch(name):
        raise InputError(
            f"{name[:60]!r}: allowed: a name of letters, digits, spaces, - and _, up to 40 of "
            "them, with its ending"
        )
    path = folder / name
    if path.is_symlink() or path.resolve().parent != folder.resolve():
        raise InputError(f"{name}: leads out of the desk's folder")
    return path


def plain(text: str, otherwise: str) -> str:
    """What somebody called a thing, as the stem of a file's name."""
    found = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:40].strip("-")
    return found or otherwise
