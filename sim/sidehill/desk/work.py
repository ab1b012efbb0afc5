"""Sheet, film and replay of the saved study, made in a process of its own in the desk's folder.

It works as the command does that is told beside it, so that the files are the same.
"""

import os
import signal
import sys
from collections.abc import Callable, Sequence
from multiprocessing import parent_process
from multiprocessing.connection import Connection, wait
from pathlib import Path
from threading import Thread
from types import FrameType
from typing import Any

from sidehill.desk.commands import ENGINE, FILM, REPLAY, SHEET, replay_line
from sidehill.files.errors import SidehillError

STUDY = "study.toml"
Say = Callable[[str], None]


def work(kind: str, folder: str, wish: dict[str, Any], pipe: Connection) -> None:
    """Make one thing; what goes on, and what came of it, goes down the pipe."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the desk itself says when to stop
    signal.signal(signal.SIGTERM, _leave)
    Thread(target=_follow, daemon=True).start()
    os.chdir(folder)

    def say(text: str) -> None:
        pipe.send(("say", text))

    try:
        pipe.send(("done", _MAKERS[kind](wish, say)))
    except SidehillError as error:
        pipe.send(("failed", str(error)))
    except MemoryError:
        pipe.send(("failed", "not enough memory; close other programs and try again"))


def _leave(number: int, frame: FrameType | None) -> None:
    sys.exit(128 + number)


def _follow() -> None:
    """End with the desk, however it ended."""
    desk = parent_process()
    if desk is not None:
        wait([desk.sentinel])
        os._exit(1)


def _sheet(wish: dict[str, Any], say: Say) -> str:
    from sidehill.files.whole import ready_folder, write_file
    from sidehill.sheet.make import make_sheet
    from sidehill.sheet.wish import Wish
    from sidehill.study.study import load_study

    file = Path(SHEET)
    asked = Wish(
        records=ready_folder(file.parent / "records"),
        quick=wish["quick"], film="none", us=wish["us"],
    )  # fmt: skip
    write_file(file, make_sheet(load_study(STUDY), file, asked, say).html)
    return SHEET


def _recorded(names: Sequence[str], say: Say) -> list[Any]:
    """The runs of some options."""
    from sidehill.study.study import load_study
    from sidehill.sweep.kept import kept_records

    study = load_study(STUDY)
    cases = {name: study.case(study.option(name)) for name in names}
    return list(kept_records(cases, ENGINE, Path("records"), say))


def _film(wish: dict[str, Any], say: Say) -> str:
    from sidehill.film import film

    def frames(done: int, of: int, left: float) -> None:
        say(f"frame {done} of {of}, {left:.0f} s left")

    film(_recorded(wish["names"], say), wish["names"], Path(FILM), progress=frames)
    return FILM


def _replay(wish: dict[str, Any], say: Say) -> str:
    from sidehill.replay import write_replay

    names = wish["names"]
    write_replay(Path(REPLAY), _recorded(names, say), names, command=replay_line(names))
    return REPLAY


_MAKERS: dict[str, Callable[[dict[str, Any], Say], str]] = {
    "sheet": _sheet,
    "film": _film,
    "replay": _replay,
}
