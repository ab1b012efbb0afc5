"""What takes longer than a page may wait: one process each, followed, and ended when asked."""

from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from threading import Lock, Thread
from typing import Any

from sidehill.desk.work import work
from sidehill.files.errors import InputError
from sidehill.files.whole import MARK

KINDS = ("sheet", "film", "replay")
_SPAWN = get_context("spawn")  # not forked: threads do not survive a fork
_PATIENCE = 5.0  # [s] in which a stopped one leaves in order

Tell = Callable[[str, str, str], None]  # kind, state, words


@dataclass
class _Job:
    process: BaseProcess
    is_stopped: bool = False
    said: str = "starting"


class Jobs:
    """At most one of each kind at a time."""

    def __init__(self, folder: Path, tell: Tell) -> None:
        self._folder, self._tell = folder, tell
        self._running: dict[str, _Job] = {}
        self._lock = Lock()

    def start(self, kind: str, wish: dict[str, Any]) -> None:
        """Begin.

        Raises:
            InputError: an unknown kind, or one is at work.
        """
        if kind not in KINDS:
            raise InputError(f"{kind[:20]!r}: allowed: {', '.join(KINDS)}")
        with self._lock:
            if kind in self._running:
                raise InputError(f"a {kind} is being made; wait for it, or stop it")
            here, there = _SPAWN.Pipe(duplex=False)
            process = _SPAWN.Process(
                target=work, args=(kind, str(self._folder), wish, there), daemon=True
            )
            process.start()
            there.close()
            job = self._running[kind] = _Job(process)
        self._tell(kind, "at work", "starting")
        Thread(target=self._follow, args=(kind, job, here), daemon=True).start()

    def at_work(self) -> dict[str, str]:
        """Kinds at work, each with what it said last."""
        with self._lock:
            return {kind: job.said for kind, job in self._running.items()}

    def stop(self, kind: str) -> None:
        """End it; nothing half made is left.

        Raises:
            InputError: none is at work.
        """
        with self._lock:
            job = self._running.get(kind)
            if job is None:
                raise InputError(f"no {kind[:20]} is being made")
            job.is_stopped = True
        job.process.terminate()

    def end(self) -> None:
        """End all of them."""
        with self._lock:
            jobs = list(self._running.values())
        for job in jobs:
            job.is_stopped = True
            job.process.terminate()
        for job in jobs:
            job.process.join(_PATIENCE)
            job.process.kill()

    def _follow(self, kind: str, job: _Job, pipe: Connection) -> None:
        """Pass on what it says, until it ends."""
        ended, words = "failed", "it ended without a word; try again"
        try:
            while True:
                state, text = pipe.recv()
                if state != "say":
                    ended, words = state, text
                    break
                job.said = text
                self._tell(kind, "at work", text)
        except (EOFError, OSError):
            pass
        job.process.join(_PATIENCE)
        if job.process.is_alive():
            job.process.kill()
            job.process.join()
        for part in self._folder.glob(f".{job.process.pid}{MARK}*"):
            part.unlink(missing_ok=True)
        with self._lock:
            self._running.pop(kind, None)
        if job.is_stopped and ended != "done":
            ended, words = "stopped", "stopped; what was there before still is"
        self._tell(kind, ended, words)
