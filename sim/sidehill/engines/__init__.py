"""Physics engines behind one small protocol: the only importers of pybullet and mujoco."""

from collections.abc import Callable
from importlib.util import find_spec
from typing import NamedTuple

from sidehill.engines.engine import Engine
from sidehill.files.errors import EngineError
from sidehill.flat import Flat


class Known(NamedTuple):
    """How an engine is opened, and what it needs."""

    opened: Callable[[Flat], Engine]
    package: str = ""  # that must be installed; empty: none
    advice: str = ""  # how to get it, if it is not there


def _pybullet(flat: Flat) -> Engine:
    from sidehill.engines.bullet import BulletEngine

    return BulletEngine(flat)


def _mujoco(flat: Flat) -> Engine:
    from sidehill.engines.mujoco import MujocoEngine

    return MujocoEngine(flat)


def _compiled(flat: Flat) -> Engine:
    from sidehill.engines.compiled import CompiledEngine

    return CompiledEngine(flat)


ENGINES = {
    "pybullet": Known(
        _pybullet, "pybullet", ", or install it with pip install 'sidehill[pybullet]'"
    ),
    "mujoco": Known(_mujoco, "mujoco"),
    "compiled": Known(_compiled),
}
NAMES = tuple(ENGINES)
PACKAGES = tuple(known.package for known in ENGINES.values() if known.package)
# in which what many runs leave near a decision is run again: it shares no dynamics with the
# compiled one, takes a fifth of pybullet's time and is in every install
REFERENCE = "mujoco"
THREADED = ("compiled", "mujoco")  # let go of the interpreter while they step


def choose(name: str = "auto", many: bool = False) -> str:
    """The engine that a name stands for.

    `auto` is pybullet where it imports, else mujoco; for `many` runs, as of a search or a
    sweep, it is `compiled`, checked in REFERENCE.

    Raises:
        EngineError: unknown, or not installed here.
    """
    if name == "auto" and many:
        return "compiled"
    if name == "auto":
        name = "pybullet" if "pybullet" in here() else "mujoco"
    if name not in NAMES:
        raise EngineError(f"engine '{name}' is not known; use auto, {', '.join(NAMES)}")
    if name not in here():
        advice = ENGINES[name].advice
        raise EngineError(f"engine '{name}' is not installed here; use --engine auto{advice}")
    return name


def here() -> tuple[str, ...]:
    """The engines that are installed here."""
    return tuple(
        name for name, known in ENGINES.items() if not known.package or find_spec(known.package)
    )


def open_engine(name: str, flat: Flat) -> Engine:
    """An engine holding one case, ready for `init`. The name is as `choose` returns it."""
    return ENGINES[name].opened(flat)
