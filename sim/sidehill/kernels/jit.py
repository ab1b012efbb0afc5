"""The one way to compile a kernel, with a cache that cannot go stale.

numba keys its cache on the file of the decorated function alone: an edited callee in
another file would leave the old machine code running. So the cache folder is named after
a hash of every source in the folders that hold kernels, and of the numba version.
"""

import hashlib
import os
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

_PACKAGE = Path(__file__).parent.parent
_FOLDERS = ("kernels", "dynamics", "engines")  # where kernels of the physics are

# Without numba's runtime nothing can be allocated, and no array is counted up and down.
# Arithmetic is strict: with fused or reordered sums a result hangs on which of several copies of
# a function the linker takes, and a first, compiling run differed from the next in the last bits.
# Inlined: a call passes its arrays whole, which took a third of a step. No kernel is a callback.
OPTIONS: dict[str, Any] = {
    "nogil": True,
    "error_model": "numpy",
    "_nrt": False,
    "forceinline": True,
    "no_cfunc_wrapper": True,
}

F = TypeVar("F", bound=Callable[..., Any])


def hash_files(salt: str, files: Iterable[Path]) -> str:
    """16 hex digits of a text and the content of files."""
    digest = hashlib.sha256(salt.encode())
    for file in files:
        digest.update(file.read_bytes())
    return digest.hexdigest()[:16]


def _writable_folder(name: str) -> Path | None:
    """A folder for compiled kernels, or None where nothing can be written."""
    home = os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    for base in (Path(home).expanduser(), Path(tempfile.gettempdir())):
        folder = base / "sidehill" / name
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except (OSError, RuntimeError):
            continue
        if os.access(folder, os.W_OK):
            return folder
    return None


class Compiler:
    """Compiles functions of some folders; the hash of their sources is the name of the cache."""

    def __init__(self, name: str, package: Path, folders: tuple[str, ...], salt: str) -> None:
        self.package, self.folders, self.salt = package, folders, salt
        sources = (file for folder in folders for file in sorted((package / folder).glob("*.py")))
        self.version = hash_files(salt, sources)
        self.folder = _writable_folder(f"{name}-{self.version}")

    def __call__(self, function: F) -> F:
        """Compile a function over scalars and flat arrays; no objects, no allocation.

        Raises:
            RuntimeError: the function's file is in none of the hashed folders.
        """
        source = Path(function.__code__.co_filename).relative_to(self.package)
        if source.parent.as_posix() not in self.folders:
            raise RuntimeError(f"{source} holds a kernel but is in none of the hashed folders")
        config: Any = numba.config
        before, config.CACHE_DIR = config.CACHE_DIR, str(self.folder or "")
        try:
            compiled: Any = numba.njit(cache=self.folder is not None, **OPTIONS)(function)
        finally:
            config.CACHE_DIR = before
        return cast(F, compiled)


kernel = Compiler("kernels", _PACKAGE, _FOLDERS, f"numba {numba.__version__}")
CACHE_FOLDER = kernel.folder
