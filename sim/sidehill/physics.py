"""What decides a result: the sources that it passes through, and their hash.

The closure of imports is computed from the sources, not listed, so that nothing that a run
passes through can be left out of the key of a case.
"""

import hashlib
import re
from functools import cache
from pathlib import Path

from sidehill.kernels.jit import hash_files, kernel

PACKAGE = Path(__file__).parent
RECORD = "run/record.py"  # makes a case's record, and imports all that it takes
ROW = "sweep/task.py"  # makes a row of a sweep: what is read off a record, and limits
_IMPORT = re.compile(
    r"^[ \t]*(?:from (sidehill[\w.]*) import (\([^)]*\)|[^\n(]+)|import (sidehill[\w., ]+))", re.M
)


def _modules(source: str) -> set[str]:
    """Names that a source imports as modules, and those of the packages around them."""
    names: set[str] = set()
    for parent, imported, plain in _IMPORT.findall(source):
        names |= set(re.findall(r"sidehill[\w.]*", plain))
        if parent:
            names |= {parent, *(f"{parent}.{name}" for name in re.findall(r"\w+", imported))}
    return names | {name.rsplit(".", n)[0] for name in names for n in range(1, name.count(".") + 1)}


@cache
def _sources(package: Path) -> dict[str, str]:
    """Module -> its file, relative to the package."""
    around = f"{package.as_posix()}/"
    files = [file.as_posix().removeprefix(around) for file in package.rglob("*.py")]
    return {
        f"sidehill.{file.removesuffix('.py').removesuffix('/__init__').replace('/', '.')}": file
        for file in files
    }


def closure(package: Path = PACKAGE, start: str = RECORD) -> tuple[str, ...]:
    """The sources that are loaded with `start`, itself too, sorted; relative to the package.

    The package's own `__init__` is left out: it loads names only as they are asked for.
    """
    source_of = _sources(package)
    reached: set[str] = set()
    waiting = {start}
    while waiting:
        source = waiting.pop()
        reached.add(source)
        names = _modules((package / source).read_text(encoding="utf-8"))
        waiting |= {source_of[name] for name in names if name in source_of} - reached
    return tuple(sorted(reached))


@cache
def digests(start: str, package: Path = PACKAGE) -> dict[str, str]:
    """Each source that `start` passes through and a hash of it: what a change is named by."""
    return {
        source: hashlib.sha256((package / source).read_bytes()).hexdigest()[:8]
        for source in closure(package, start)
    }


@cache
def version(start: str, package: Path = PACKAGE) -> str:
    """16 hex digits of all that `start` passes through, the compiler's version included."""
    return hash_files(kernel.salt, (package / source for source in closure(package, start)))


PHYSICS_VERSION = version(RECORD)  # of a record
