"""Whether runs can lie over each other."""

from collections.abc import Sequence

from sidehill.files.errors import InputError
from sidehill.film.differs import apart_in, fields, worded
from sidehill.film.recorded import Recorded

# what ghosts must share
PLACE = ("scenario.ground", "scenario.feature", "scenario.heights", "scenario.course")
MOTION_ONLY = ("scenario.course.length",)  # changes no ground


def apart(records: Sequence[Recorded]) -> str:
    """Why the runs cannot lie over each other, as they are on different ground; else empty."""
    differing = [
        worded(name)
        for name, _ in apart_in([dict(fields(record)) for record in records])
        if name.startswith(PLACE) and name not in MOTION_ONLY
    ]
    if not differing:
        return ""
    return f"not over each other: these runs differ in {', '.join(differing)}"


def refuse_ghosts(records: Sequence[Recorded]) -> None:
    """Refuse to lay runs over each other that are on different ground.

    Raises:
        InputError: in what they differ.
    """
    why = apart(records)
    if why:
        raise InputError(f"{why}; side by side they can be shown")
