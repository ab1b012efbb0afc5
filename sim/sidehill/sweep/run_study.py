"""A study from its first case to its table, whatever comes in between."""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from pathlib import Path
from signal import SIG_DFL, SIGTERM, default_int_handler, getsignal, signal
from threading import current_thread, main_thread

from sidehill.files.errors import InputError
from sidehill.study.study import Study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.dispatch import crew
from sidehill.sweep.folder import Folder
from sidehill.sweep.known import Known, check_alike
from sidehill.sweep.lock import locked
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import Results
from sidehill.sweep.task import ask
from sidehill.sweep.work import Work


def run_study(
    study: Study,
    folder: str | Path,
    *,
    engine: str = "auto",
    executor: Executor | None = None,
    workers: int | None = None,
    watch: Callable[[Progress], None] | None = None,
    known: Sequence[str | Path] = (),
) -> Results:
    """Run every case of a study that the folder does not have yet.

    Interrupted (KeyboardInterrupt, SIGTERM), killed or out of disk, it keeps what was finished;
    the same call goes on from there. A study that was changed (more draws, another seed, a further
    option, a finer grid) goes on from the cases that it has in common with what is there.

    Args:
        engine: `auto` computes in the compiled engine, and again in the reference engine what
            came out near a decision; a name is used for all.
        executor: runs the chunks, and is not closed; else one spawned process a core. (A script
            that calls this needs `if __name__ == "__main__":`.)
        workers: processes, or how many the executor has; 1 without an executor: none but this.
        watch: called as chunks are finished.
        known: folders of other sweeps whose cases need not be run again; they are left as they are.

    Raises:
        InputError: nothing can be run of the study, or the folder is not of it.
        SidehillError: the folder cannot be written, or no worker can be kept alive.
    """
    agenda = Agenda(study, ask(engine))
    check_scenario(study)
    place = Folder(Path(folder), agenda)
    others = [Path(other) for other in known]
    for other in others:
        check_alike(other, agenda.meta)
    with locked(place.path):
        place.claim()
        if not place.is_finished():
            work = Work(place, Known([*place.earlier, *others]), watch or (lambda _: None))
            with _terminable():
                work.go_on(crew(executor, workers, agenda.chunks))
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
