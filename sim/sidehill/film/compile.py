"""The one way to compile a drawing kernel: as `sidehill.jit`, with a cache of its own.

A change to the drawing must not change the physics version, so drawing kernels are hashed
apart; they call the ground's height, so the physics version is part of their hash.
"""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

from sidehill.jit import PHYSICS_VERSION, _writable_folder

_PACKAGE = Path(__file__).parent
_SOURCES = (
    "compile.py",
    "grass.py",
    "light.py",
    "project.py",
    "raster.py",
    "relief.py",
    "resolve.py",
    "shade.py",
    "shadow.py",
    "sky.py",
    "texture.py",
)

# No reference counting: a kernel allocates nothing, and counting its arrays at every call took
# a third of the time of a picture. `forceinline` for the same reason: calls pass many arrays.
OPTIONS = {"nogil": True, "error_model": "numpy", "forceinline": True, "_nrt": False}

F = TypeVar("F", bound=Callable[..., Any])


def _hash_sources() -> str:
    digest = hashlib.sha256(PHYSICS_VERSION.encode())
    for name in _SOURCES:
        digest.update((_PACKAGE / name).read_bytes())
    return digest.hexdigest()[:16]


PICTURE_VERSION = _hash_sources()
CACHE_FOLDER = _writable_folder(f"film-{PICTURE_VERSION}")


def kernel(function: F) -> F:
    """Compile a function over scalars and arrays: strict arithmetic, so the same pixels anywhere.

    Raises:
        RuntimeError: the function's file is missing from the hashed sources.
    """
    source = Path(function.__code__.co_filename).relative_to(_PACKAGE).as_posix()
    if source not in _SOURCES:
        raise RuntimeError(f"{source} holds a drawing kernel but is not in compile._SOURCES")
    options: dict[str, Any] = {"cache": CACHE_FOLDER is not None, **OPTIONS}
    config: Any = numba.config
    before, config.CACHE_DIR = config.CACHE_DIR, str(CACHE_FOLDER or "")
    try:
        compiled: Any = numba.njit(**options)(function)
    finally:
        config.CACHE_DIR = before
    return cast(F, compiled)
