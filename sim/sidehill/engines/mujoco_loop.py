"""MuJoCo's steps in one compiled loop: its C function between our kernels.

The function is called by its address, with the addresses of the model and its data. No
callback, no interpreter and no lock in between.
"""

import ctypes
from pathlib import Path
from typing import Any

import mujoco as mj
from llvmlite import ir  # type: ignore[import-untyped]
from numba import types
from numba.extending import intrinsic

from sidehill.kernels.height import Ground
from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import pull_generalised, push_generalised
from sidehill.kernels.layout import Records, Vector
from sidehill.kernels.step import forces


def step_address() -> int | None:
    """Where `mj_step` is in the library that the module loaded; None if it is not found."""
    for path in sorted(Path(mj.__file__).parent.glob("*mujoco*")):
        if path.suffix == ".py" or not path.is_file():
            continue
        try:
            return ctypes.cast(ctypes.CDLL(str(path)).mj_step, ctypes.c_void_p).value
        except (OSError, AttributeError):
            continue
    return None


def _call(typing: Any, function: Any, model: Any, data: Any) -> Any:
    """Machine code of a call to the C function at an address, void (*)(model, data)."""

    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        address, *handles = arguments
        kind = ir.FunctionType(ir.VoidType(), [handle.type for handle in handles])
        builder.call(builder.inttoptr(address, kind.as_pointer()), handles)
        return context.get_dummy_value()

    return types.void(types.intp, types.intp, types.intp), build


call: Any = intrinsic(_call)


@kernel
def step_mujoco(
    cases: Records, models: Records, states: Records, works: Records, ground: Ground,
    points: Vector, rows: Records, n: int, function: int, model: int, data: int, com: Vector,
    qfrc: Vector, qpos: Vector, qvel: Vector, places: Vector, rates: Vector, R: Vector,
) -> int:  # fmt: skip
    """At most n steps; stops on a finish code. Returns the steps done.

    function, model, data: addresses of mj_step and of what it steps; the rest as in
    `forces`, `push_generalised` and `pull_generalised`.
    """
    for done in range(n):
        if not forces(cases, models, states, works, ground, points, rows):
            return done
        push_generalised(works, com, qfrc, rates)
        call(function, model, data)
        pull_generalised(states, com, qpos, qvel, places, rates, R)
    return n
