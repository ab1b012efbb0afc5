"""A study's decision sheet, from question to file."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from sidehill.sheet.findings import Findings, find
from sidehill.sheet.looks import Looks
from sidehill.sheet.moving import Moving, moving
from sidehill.sheet.page import page
from sidehill.sheet.turning import Turning, turning
from sidehill.sheet.wish import Wish
from sidehill.study.study import Study


@dataclass(frozen=True)
class Sheet:
    """A sheet, before it is written."""

    html: bytes
    found: Findings
    film: Moving
    replay: Turning


def make_sheet(
    study: Study,
    file: Path,
    wish: Wish,
    say: Callable[[str], None] = lambda text: None,
    looks: Looks | None = None,
) -> Sheet:
    """The sheet of a study; same inputs, same bytes.

    Args:
        file: where the sheet is going to be; a linked film or replay and kept records are written
            there, the sheet itself is not.
        say: told what is being done.
        looks: where they have been taken already.

    Raises:
        InputError: the scenario is a tilt table, a wanted slope is out of range, or no option can
            be simulated.
        EngineError: the engine is not installed here.
        SidehillError: a film, replay or record cannot be written.
    """
    found = find(study, wish, say, looks)
    film = moving(found, file, say)
    replay = turning(found, file, say)
    say("writing")
    return Sheet(page(found, film, replay, file.name), found, film, replay)
