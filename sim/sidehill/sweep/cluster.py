"""A cluster of dask workers as an executor."""

from collections.abc import Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from importlib import import_module
from typing import Any

from sidehill.files.errors import InputError

PATIENCE = 10.0  # [s] for the scheduler to answer


@contextmanager
def cluster(address: str) -> Iterator[tuple[Executor, int]]:
    """The executor of a scheduler, as "tcp://host:8786", and how many workers it has.

    The workers need the same sidehill and numba installed; nothing else is asked of them.

    Raises:
        InputError: dask.distributed is not installed, nothing answers, or no worker is there.
    """
    try:
        distributed: Any = import_module("distributed")  # an extra: it may not be there
    except ImportError:
        raise InputError("--dask needs dask.distributed: pip install 'sidehill[cluster]'") from None
    try:
        client = distributed.Client(address, timeout=PATIENCE)
    except (OSError, TimeoutError, ValueError, TypeError) as error:
        first = str(error).partition("\n")[0]
        raise InputError(
            f"--dask {address}: no scheduler answers there ({type(error).__name__}: {first}); "
            "give the address that `dask scheduler` prints, as tcp://host:8786"
        ) from None
    try:
        workers = sum(client.nthreads().values())
        if not workers:
            raise InputError(f"--dask {address}: the scheduler has no workers; start some first")
        yield client.get_executor(pure=False), workers
    finally:
        client.close()
