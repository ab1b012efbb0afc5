"""Parallel processes that do not fight over cores."""

import os
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context

_ONE_THREAD = (
    "OMP_NUM_THREADS",
    "OPENBLAS_NUM_THREADS",
    "MKL_NUM_THREADS",
    "NUMBA_NUM_THREADS",
    "VECLIB_MAXIMUM_THREADS",
)


def cores() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def pool(tasks: int) -> Iterator[Executor]:
    """One process a core, no more than tasks, each with one thread.

    Processes are spawned, not forked: an engine's threads do not survive a fork. They start
    while work is handed in and read the environment then, so it stays changed that long.
    """
    before = {name: os.environ.get(name) for name in _ONE_THREAD}
    os.environ.update(dict.fromkeys(_ONE_THREAD, "1"))
    workers = ProcessPoolExecutor(min(cores(), tasks), mp_context=get_context("spawn"))
    try:
        yield workers
    finally:
        workers.shutdown(cancel_futures=True)
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
