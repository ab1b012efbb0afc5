"""A study from its first case to its table, whatever comes in between."""

from collections.abc import Callable, Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from pathlib import Path
from signal import SIG_DFL, SIGTERM, default_int_handler, getsignal, signal
from threading import current_thread, main_thread
from time import monotonic
from typing import Any

from sidehill.files.errors import InputError, SidehillError
from sidehill.study.study import Study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.dispatch import OpenPool, Spread, crew
from sidehill.sweep.folder import Folder
from sidehill.sweep.lock import locked
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import Results
from sidehill.sweep.task import ask
from sidehill.sweep.version import ROW_VERSION
from sidehill.sweep.warm import warm


def run_study(
    study: Study,
    folder: str | Path,
    *,
    engine: str = "auto",
    executor: Executor | None = None,
    workers: int | None = None,
    watch: Callable[[Progress], None] | None = None,
) -> Results:
    """Run every case of a study that the folder does not have yet.

    Interrupted (KeyboardInterrupt, SIGTERM), killed or out of disk, it keeps what was finished;
    the same call goes on from there.

    Args:
        engine: `auto` computes in the compiled engine, and again in the reference engine what
            came out near a decision; a name is used for all.
        executor: runs the chunks, and is not closed; else one spawned process a core. (A script
            that calls this needs `if __name__ == "__main__":`.)
        workers: processes, or how many the executor has; 1 without an executor: none but this.
        watch: called as chunks are finished.

    Raises:
        InputError: nothing can be run of the study, or the folder is not of it.
        SidehillError: the folder cannot be written, or no worker can be kept alive.
    """
    agenda = Agenda(study, ask(engine))
    check_scenario(study)
    place = Folder(Path(folder), agenda)
    with locked(place.path):
        place.claim()
        if not place.is_finished():
            with _terminable():
                _compute(place, crew(executor, workers, agenda.chunks), watch or (lambda _: None))
            place.finish()
        place.tidy()
    return Results(place.path, agenda.meta, tuple(place.notes))


def check_scenario(study: Study) -> None:
    """A course, not a tilt table.

    Raises:
        InputError: a tilt table, on which nothing is driven.
    """
    if study.scenario.course.is_tilt_table:
        raise InputError(f"{study.file}: nothing is driven on a tilt table; use a course")


def _compute(place: Folder, hands: tuple[OpenPool, int], watch: Callable[[Progress], None]) -> None:
    """Run the chunks that are missing, and keep each as it is finished."""
    agenda, progress = place.agenda, Progress(place.agenda.count)
    done = place.done()
    for chunk in done:
        progress.count(place.read(chunk).to_pylist(), kept=True)
    watch(progress)
    missing = sorted(set(range(agenda.chunks)).difference(done))
    if not missing:
        return
    warm(agenda.study, agenda.asked)
    progress.began = monotonic()
    for chunk, rows in Spread(*hands).rows(agenda.tasks(missing)):
        _same_physics(rows)
        place.keep(chunk, rows)
        progress.count(rows)
        watch(progress)


def _same_physics(rows: list[dict[str, Any]]) -> None:
    """Workers elsewhere must have what is here."""
    for row in rows:
        if row["physics"] != ROW_VERSION:
            raise SidehillError(
                f"a worker has version {row['physics']} of the physics, this is {ROW_VERSION}: "
                "install the same sidehill and numba on all machines; what was finished is kept"
            )


@contextmanager
def _terminable() -> Iterator[None]:
    """SIGTERM is an interrupt like Ctrl-C, where nobody else sees to it."""
    if current_thread() is not main_thread() or getsignal(SIGTERM) != SIG_DFL:
        yield
        return
    signal(SIGTERM, default_int_handler)
    try:
        yield
    finally:
        signal(SIGTERM, SIG_DFL)
