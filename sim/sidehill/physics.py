"""What decides a run: the sources between a case and its record, and their hash.

The closure of imports is computed from the sources, not listed, so that nothing that a run
passes through can be left out of the key of a case.
"""

import re
from functools import cache
from pathlib import Path

from sidehill.kernels.jit import hash_files, kernel

PACKAGE = Path(__file__).parent
_START = "run/simulate.py"
_IMPORT = re.compile(
    r"^[ \t]*(?:from (sidehill[\w.]*) import (\([^)]*\)|[^\n(]+)|import (sidehill[\w.]+))", re.M
)


def _file_of(package: Path, module: str) -> str | None:
    """The file of a module, relative to the package; None if there is none of that name."""
    inner = module.split(".")[1:]
    plain = package.joinpath(*inner).with_suffix(".py") if inner else None
    if plain is not None and plain.is_file():
        return plain.relative_to(package).as_posix()
    face = package.joinpath(*inner, "__init__.py")
    return face.relative_to(package).as_posix() if inner and face.is_file() else None


def _imported(package: Path, source: str) -> set[str]:
    """Files that a source imports, those of the packages around them among them."""
    modules: set[str] = set()
    for match in _IMPORT.finditer((package / source).read_text(encoding="utf-8")):
        parent, names, plain = match.groups()
        if plain:
            modules.add(plain)
            continue
        modules.add(parent)
        modules |= {f"{parent}.{name}" for name in re.findall(r"\w+", names)}
    around = {m.rsplit(".", n)[0] for m in modules for n in range(1, m.count(".") + 1)}
    files = {_file_of(package, module) for module in modules | around}
    return {file for file in files if file is not None}


def closure(package: Path = PACKAGE) -> tuple[str, ...]:
    """Every source of the package that a run passes through, sorted, relative to it."""
    reached: set[str] = set()
    waiting = {_START}
    while waiting:
        source = waiting.pop()
        reached.add(source)
        waiting |= _imported(package, source) - reached
    return tuple(sorted(reached))


@cache
def physics_version(package: Path = PACKAGE) -> str:
    """16 hex digits of all that decides a run, the compiler's version included."""
    return hash_files(kernel.salt, (package / source for source in closure(package)))


PHYSICS_VERSION = physics_version()
