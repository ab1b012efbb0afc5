"""The one way to compile a kernel, with a cache that cannot go stale.

numba keys its cache on the file of the decorated function alone: an edited callee in
another file would leave the old machine code running. So the cache folder is named after
a hash of every kernel source and the numba version, and that hash is the physics version.
"""

import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

_PACKAGE = Path(__file__).parent
_SOURCES = (
    "jit.py",
    "layout.py",
    "terrain/height.py",
    "rim.py",
    "bristle.py",
    "tyre.py",
    "stop.py",
    "driver.py",
    "loader.py",
    "kinematics.py",
    "fall.py",
    "monitor.py",
    "step.py",
    "dynamics/tree.py",
    "dynamics/gyrostat.py",
    "dynamics/inertia.py",
    "dynamics/bias.py",
    "dynamics/matrix.py",
    "dynamics/solve.py",
    "dynamics/advance.py",
    "engines/mujoco_loop.py",
)

# without numba's runtime nothing can be allocated, and no array is counted up and down
# fused and reordered sums, 6 % faster; what is not a number still is not, and `sane` sees it
FASTMATH = {"contract", "reassoc", "arcp", "nsz"}
OPTIONS = {"nogil": True, "error_model": "numpy", "fastmath": FASTMATH, "_nrt": False}

F = TypeVar("F", bound=Callable[..., Any])


def _hash_sources() -> str:
    digest = hashlib.sha256(f"numba {numba.__version__}".encode())
    for name in _SOURCES:
        digest.update((_PACKAGE / name).read_bytes())
    return digest.hexdigest()[:16]


def _writable_folder(version: str) -> Path | None:
    """A folder for compiled kernels, or None where nothing can be written."""
    home = os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    for base in (Path(home).expanduser(), Path(tempfile.gettempdir())):
        folder = base / "sidehill" / f"kernels-{version}"
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except (OSError, RuntimeError):
            continue
        if os.access(folder, os.W_OK):
            return folder
    return None


PHYSICS_VERSION = _hash_sources()
CACHE_FOLDER = _writable_folder(PHYSICS_VERSION)


def kernel(function: F) -> F:
    """Compile a function over scalars and flat arrays; no objects, no allocation.

    Raises:
        RuntimeError: the function's file is missing from the hashed sources.
    """
    source = Path(function.__code__.co_filename).relative_to(_PACKAGE).as_posix()
    if source not in _SOURCES:
        raise RuntimeError(f"{source} holds a kernel but is not in jit._SOURCES")
    options: dict[str, Any] = {"cache": CACHE_FOLDER is not None, **OPTIONS}
    config: Any = numba.config
    before, config.CACHE_DIR = config.CACHE_DIR, str(CACHE_FOLDER or "")
    try:
        compiled: Any = numba.njit(**options)(function)
    finally:
        config.CACHE_DIR = before
    return cast(F, compiled)
