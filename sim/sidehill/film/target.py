"""Where a film goes: refused before an hour of drawing."""

from pathlib import Path

from sidehill.errors import InputError
from sidehill.whole import ready_folder

KINDS = (".mp4", ".gif")


def check_target(path: Path) -> None:
    """Refuse a place that cannot be written.

    Raises:
        InputError: a kind of file that is not made here; a folder; a place without write access.
    """
    if path.suffix.lower() not in KINDS:
        raise InputError(f'{path}: a film ends in {" or ".join(KINDS)}, as "bank.mp4"')
    if path.is_dir():
        raise InputError(f"{path}: a folder; name the file in it")
    ready_folder(path.parent)
