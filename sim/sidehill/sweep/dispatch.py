"""Tasks spread over an executor; what kills a worker is found, and the others go on."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    wait,
)
from contextlib import AbstractContextManager, ExitStack, nullcontext
from dataclasses import dataclass, replace

from sidehill.files.errors import SidehillError
from sidehill.sweep.row import Row
from sidehill.sweep.task import Task, dead_row, work
from sidehill.workers import Here, cores, pool

MOST_FALLS = 2  # times a case may kill its worker
MOST_BREAKS = 10  # of the pool, before anything came back at all
AHEAD = 2  # tasks handed in for each worker: one at work, one to go on with

OpenPool = Callable[[], AbstractContextManager[Executor]]


@dataclass(frozen=True)
class Job:
    """A part of a chunk: the whole of it, or one case once it is under suspicion."""

    chunk: int
    task: Task
    first: int = 0  # place of its first case in the chunk
    alone: bool = False  # handed in with nothing else at work
    falls: int = 0  # times it was so and its worker died


class Spread:
    """Hands jobs to an executor, never more than are needed to keep it busy.

    When workers die or run out of memory, the jobs they may have had are run again one at a
    time: one that fails then is taken apart, and a single case that does it twice is recorded
    as such.
    """

    def __init__(self, open_pool: OpenPool, workers: int) -> None:
        self.open_pool, self.width = open_pool, AHEAD * workers
        self.suspects: deque[Job] = deque()
        self.running: dict[Future[list[Row]], Job] = {}
        self.broken, self.breaks, self.came_back = False, 0, False

    def rows(self, tasks: Iterable[tuple[int, Task]]) -> Iterator[tuple[int, list[Row]]]:
        """Chunk and rows of each task, in the order in which they are finished."""
        jobs = (Job(chunk, task) for chunk, task in tasks)
        parts: dict[int, dict[int, list[Row]]] = {}
        with ExitStack() as stack:
            executor = stack.enter_context(self.open_pool())
            try:
                while self._hand_in(executor, jobs) or self.running:
                    for job, rows in self._finished():
                        got = parts.setdefault(job.chunk, {})
                        got[job.first] = rows
                        if not self._is_open(job.chunk):
                            del parts[job.chunk]
                            yield job.chunk, [row for first in sorted(got) for row in got[first]]
                    if self.broken and not self.running:
                        stack.close()
                        executor = stack.enter_context(self._reopen())
            finally:
                for future in self.running:
                    future.cancel()

    def _hand_in(self, executor: Executor, jobs: Iterator[Job]) -> bool:
        """Keep the executor busy; whether anything is under way."""
        if self.suspects and not self.running:
            self._submit(executor, replace(self.suspects.popleft(), alone=True))
        is_alone = any(job.alone for job in self.running.values())
        while not (self.broken or self.suspects or is_alone) and len(self.running) < self.width:
            job = next(jobs, None)
            if job is None:
                break
            self._submit(executor, job)
        return bool(self.running or self.suspects)

    def _submit(self, executor: Executor, job: Job) -> None:
        try:
            self.running[executor.submit(work, job.task)] = job
        except BrokenExecutor:
            self.broken = True
            self.suspects.append(job)

    def _is_open(self, chunk: int) -> bool:
        """Whether more of a chunk is to come."""
        waiting = (*self.suspects, *self.running.values())
        return any(job.chunk == chunk for job in waiting)

    def _finished(self) -> Iterator[tuple[Job, list[Row]]]:
        """What came back, worker deaths sorted out."""
        done = wait(self.running, return_when=FIRST_COMPLETED).done if self.running else ()
        for future in done:
            job = self.running.pop(future)
            try:
                rows = future.result()
            except CancelledError:
                raise SidehillError("the executor gave up the work it had; go on later") from None
            except Exception as error:
                self.broken = self.broken or isinstance(error, BrokenExecutor)
                yield from self._fell(job, error)
            else:
                self.came_back = True
                yield job, rows

    def _fell(self, job: Job, error: Exception) -> Iterator[tuple[Job, list[Row]]]:
        """A job that its worker did not do: again alone, then case by case, then given up."""
        if not job.alone:
            self.suspects.append(job)
        elif len(job.task.places) > 1:
            for k, place in enumerate(job.task.places):
                single = replace(job.task, places=(place,))
                self.suspects.append(replace(job, task=single, first=job.first + k))
        elif job.falls + 1 < MOST_FALLS:
            self.suspects.append(replace(job, falls=job.falls + 1))
        else:
            said = f"its process failed {MOST_FALLS} times: {type(error).__name__}: {error}"
            yield job, [dead_row(job.task, job.task.places[0], said)]

    def _reopen(self) -> AbstractContextManager[Executor]:
        """A new pool for one that broke."""
        self.broken, self.breaks = False, self.breaks + 1
        if self.breaks >= MOST_BREAKS and not self.came_back:
            raise SidehillError(
                "worker processes die before anything comes back from them: too little memory, or "
                "a limit on processes? Try --workers 1"
            )
        return self.open_pool()


def crew(executor: Executor | None, workers: int | None, tasks: int) -> tuple[OpenPool, int]:
    """How to open an executor, and how many workers it has.

    Args:
        executor: used and not closed; None: spawned processes, or no other than this if there
            is to be only one.
        workers: how many; None: one a core. tasks: there need be no more workers than that.
    """
    count = min(workers or cores(), tasks)
    if executor is not None:
        return _ready(executor), workers or cores()
    if count == 1:
        return (lambda: nullcontext(Here())), 1
    return (lambda: pool(count, count)), count


def _ready(executor: Executor) -> OpenPool:
    """An executor that was given; once it breaks there is no other."""
    given = [executor]

    def open_pool() -> AbstractContextManager[Executor]:
        if not given:
            raise SidehillError("the executor broke; run it again with a new one to go on")
        return nullcontext(given.pop())

    return open_pool
