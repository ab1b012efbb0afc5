"""Files that another file names: only those beside it, or where people work."""

from pathlib import Path

from sidehill.files.errors import InputError


def inside(folder: Path, name: str, where: str) -> Path:
    """The path, if what it leads to is in that folder or the one that people work in: a file
    from elsewhere opens no other file of theirs.

    Args:
        where: what names it, for the message.

    Raises:
        InputError: it leads out.
    """
    path = folder / name
    if not any(path.resolve().is_relative_to(root.resolve()) for root in (folder, Path.cwd())):
        raise InputError(
            f"{where}: leads out of the file's own folder and of the one you work in; copy it there"
        )
    return path
