"""The work of `sidehill sweep`: asked about first if it is long, its progress told."""

import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import typer

from sidehill.cli import console
from sidehill.cli.progress import progress
from sidehill.files.errors import InputError
from sidehill.study.study import Study, load_study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.cluster import cluster
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import Results
from sidehill.sweep.run_study import run_study
from sidehill.sweep.table import PLAN
from sidehill.sweep.task import ask
from sidehill.sweep.warm import estimate
from sidehill.workers import cores

LONG = 20_000  # cases that are asked about first


@dataclass(frozen=True)
class Wanted:
    """The command line."""

    study: str
    folder: Path | None
    engine: str
    workers: int | None
    dask: str | None
    yes: bool
    changes: Sequence[str] = ()  # of the study's scenario
    known: Sequence[Path] = ()  # folders of other sweeps


@dataclass
class Found:
    """A finished sweep."""

    study: Study
    results: Results
    progress: Progress = field(default_factory=lambda: Progress(0))


def run(wanted: Wanted) -> Found:
    """Run what is missing; an interrupt ends with what to do next.

    Raises:
        InputError: something on the command line or in the study cannot be used.
    """
    study = load_study(wanted.study, wanted.changes)
    folder = wanted.folder or Path(f"sidehill-{Path(wanted.study).stem}")
    last = Progress(0)
    with _executor(wanted) as (executor, workers):
        _ask_first(wanted, study, folder, workers)
        with progress(f"starting {workers} workers") as say:

            def watch(now: Progress) -> None:
                nonlocal last
                last = now
                say(words(now))

            try:
                results = run_study(
                    study,
                    folder,
                    engine=wanted.engine,
                    executor=executor,
                    workers=workers,
                    watch=watch,
                    known=wanted.known,
                )
            except (KeyboardInterrupt, SystemExit):
                _stopped(last, folder)
                raise
    return Found(study, results, last)


@contextmanager
def _executor(wanted: Wanted) -> Iterator[tuple[Executor | None, int]]:
    """The cluster's, or none: processes of this machine."""
    if wanted.dask is None:
        yield None, wanted.workers or cores()
        return
    if wanted.workers is not None:
        raise InputError("--workers and --dask: give one of them; the scheduler has its workers")
    with cluster(wanted.dask) as found:
        yield found


def _ask_first(wanted: Wanted, study: Study, folder: Path, workers: int) -> None:
    """A sweep of very many cases is not begun by mistake.

    Raises:
        InputError: nobody is there to say yes.
    """
    agenda = Agenda(study, ask(wanted.engine))
    if agenda.count <= LONG or wanted.yes or (folder / PLAN).exists():
        return
    with progress("seeing how long a case takes"):
        seconds = estimate(agenda, workers)
    said = f"{agenda.count:,} cases: about {duration(seconds)} on {workers} workers"
    if not sys.stdin.isatty():
        raise InputError(f"{wanted.study}: {said}; give --yes to go on")
    typer.confirm(f"{said}. Go on?", abort=True, err=True)


def words(now: Progress) -> str:
    """How far it is, in one line."""
    parts = [f"{now.kept + now.done:,} of {now.of:,} cases"]
    if now.remaining_s is not None:
        parts.append(f"{now.rate:.1f} a second, {duration(now.remaining_s)} to go")
    parts += [f"{count:,} {name}" for name, count in now.counts.most_common()]
    return ", ".join(parts)


def duration(seconds: float) -> str:
    """A time as people say it, rounded up."""
    if seconds < 100.0:
        return f"{int(seconds) + 1} s"
    minutes = int(seconds / 60.0) + 1
    return f"{minutes} min" if minutes < 100 else f"{minutes // 60} h {minutes % 60} min"


def _stopped(last: Progress, folder: Path) -> None:
    kept = f"{last.kept + last.done:,} of {last.of:,} cases are kept in {folder}"
    console.err().print(
        f"sidehill: stopped; {kept}; the same command goes on from there", soft_wrap=True
    )
