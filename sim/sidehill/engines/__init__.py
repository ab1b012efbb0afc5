"""Physics engines behind one small protocol: the only importers of pybullet and mujoco."""

from importlib.util import find_spec

from sidehill.engines.engine import Engine
from sidehill.files.errors import EngineError
from sidehill.flat import Flat

NAMES = ("pybullet", "mujoco", "compiled")
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
        name = "pybullet" if find_spec("pybullet") else "mujoco"
    if name not in NAMES:
        raise EngineError(f"engine '{name}' is not known; use auto, {', '.join(NAMES)}")
    if name != "compiled" and find_spec(name) is None:
        raise EngineError(
            f"engine '{name}' is not installed here; use --engine auto, or install it with "
            f"pip install 'sidehill[{name}]'"
            if name == "pybullet"
            else f"engine '{name}' is not installed here; use --engine auto"
        )
    return name


def open_engine(name: str, flat: Flat) -> Engine:
    """An engine holding one case, ready for `init`. The name is as `choose` returns it."""
    if name == "pybullet":
        from sidehill.engines.bullet import BulletEngine

        return BulletEngine(flat)
    if name == "compiled":
        from sidehill.engines.compiled import CompiledEngine

        return CompiledEngine(flat)
    from sidehill.engines.mujoco import MujocoEngine

    return MujocoEngine(flat)
