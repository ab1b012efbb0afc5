"""Many runs side by side."""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from sidehill.sweep.workers import cores

Item = TypeVar("Item")
Found = TypeVar("Found")


def mapped(
    function: Callable[[Item], Found],
    items: Sequence[Item],
    engine: str,
    watch: Callable[[int, int], None] = lambda done, of: None,
) -> list[Found]:
    """The function of every item, in order.

    Only the compiled engine lets go of the interpreter while it runs; the others take turns.

    Args:
        watch: called with items done and items in all.
    """
    workers = min(cores(), len(items)) if engine == "compiled" else 1
    found = []
    with ThreadPoolExecutor(workers) as pool:
        for result in pool.map(function, items):
            found.append(result)
            watch(len(found), len(items))
    return found
