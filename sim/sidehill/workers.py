"""Work side by side: threads here, or processes that end with the one that started them."""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from multiprocessing.connection import Connection
from signal import SIG_IGN, SIGINT, signal
from threading import Thread
from typing import Any, TypeVar

_ONE_THREAD = (
    "OMP_NUM_THREADS",
    "OPENBLAS_NUM_THREADS",
    "MKL_NUM_THREADS",
    "NUMBA_NUM_THREADS",
    "VECLIB_MAXIMUM_THREADS",
)
Item = TypeVar("Item")
Result = TypeVar("Result")

_SPAWN = get_context("spawn")  # not forked: an engine's threads do not survive a fork


def cores() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def mapped(
    function: Callable[[Item], Result],
    items: Sequence[Item],
    side_by_side: bool,
    watch: Callable[[int, int], None] = lambda done, of: None,
) -> list[Result]:
    """The function of every item, in order.

    Args:
        side_by_side: in a thread a core; worth it where the function lets go of the interpreter;
        watch: called with items done and items in all.
    """
    workers = max(1, min(cores(), len(items))) if side_by_side else 1
    results = []
    with ThreadPoolExecutor(workers) as pool:
        for result in pool.map(function, items):
            results.append(result)
            watch(len(results), len(items))
    return results


@contextmanager
def pool(
    tasks: int, workers: int | None = None, begin: Callable[[], None] | None = None
) -> Iterator[Executor]:
    """One process a core, or so many workers, no more than tasks, each with one thread.

    begin: called once in each of them, before anything else.

    Leaving it, by an error or an interrupt as well, ends the processes whatever they are at;
    so does the end of this process, however it comes. The processes start while work is handed
    in and read the environment then, so it stays changed that long.
    """
    before = {name: os.environ.get(name) for name in _ONE_THREAD}
    os.environ.update(dict.fromkeys(_ONE_THREAD, "1"))
    far, leash = _SPAWN.Pipe(duplex=False)
    crew = ProcessPoolExecutor(
        min(workers or cores(), tasks), mp_context=_SPAWN, initializer=_enter, initargs=(far, begin)
    )
    try:
        yield crew
    except BaseException:
        leash.close()  # now, not once the tasks are done
        raise
    finally:
        crew.shutdown(cancel_futures=True)
        leash.close()
        far.close()
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def _enter(far: Connection, begin: Callable[[], None] | None) -> None:
    """In a new process: leave interrupts to the one that started it, and end with it."""
    signal(SIGINT, SIG_IGN)
    Thread(target=_follow, args=(far,), daemon=True).start()
    if begin is not None:
        begin()


def _follow(far: Connection) -> None:
    """Nothing is ever sent: what comes is the end of the other side."""
    try:
        far.recv_bytes()
    except (EOFError, OSError):
        os._exit(1)


class Here(Executor):
    """Work done at once in this process."""

    def submit(self, function: Any, /, *values: Any, **named: Any) -> "Future[Any]":
        """The result, or the exception, as a future that is done."""
        future: Future[Any] = Future()
        try:
            future.set_result(function(*values, **named))
        except Exception as error:
            future.set_exception(error)
        return future
