"""The machine as a gyrostat: wheels weigh on what carries them and add nothing but spin.

A wheel is round: whatever its spin, its mass and inertia stay where they are in its carrier
and are counted there once and for all. But it turns freely, so it does not resist a turn
about its axle: without that part its own equation is solved beforehand, the articulated-body
step (Featherstone, Rigid Body Dynamics Algorithms, 2008, ch. 7). Exact, and half as many
bodies to move.
"""

import numpy as np

from sidehill.files.errors import EngineError
from sidehill.kernels.layout import BODIES, F8, WHEEL_FL, WHEEL_RR, Records, Vector, blank
from sidehill.machine.inertia import about

ROUND = 1e-9  # of a wheel's inertia, and [m]: what it may be out of balance

GYROSTAT = np.dtype(
    [
        ("anchor", F8, (3,)),  # [m] common point of the dynamics, chassis frame
        # of each body with its free wheels, as in the model; nothing for a wheel
        ("mass", F8, (BODIES,)),
        ("com", F8, (BODIES, 3)),
        ("inertia", F8, (BODIES, 3, 3)),
        ("spin", F8, (BODIES,)),  # [kg m^2] of each wheel about its axle
    ]
)


def gyrostat(models: Records, anchor: Vector, names: tuple[str, ...]) -> Records:
    """(1,) GYROSTAT of a model.

    Args:
        anchor: (3,) [m] common point, chassis frame; names: of the bodies, for messages.

    Raises:
        EngineError: a wheel is out of balance.
    """
    model, record = models[0], blank(GYROSTAT)
    values = record[0]
    values["anchor"] = anchor
    for name in ("mass", "com", "inertia"):
        values[name] = model[name]
    for b in range(WHEEL_FL, WHEEL_RR + 1):
        values["spin"][b] = _spin(model, b, names[b])
        _carry(values, model, b)
    return record


def _spin(model: Records, b: int, name: str) -> float:
    d, J = model["axis"][b], model["inertia"][b]
    spin = float(d @ J @ d)
    across = 0.5 * (float(np.trace(J)) - spin)
    rest = J - across * np.eye(3) - (spin - across) * np.outer(d, d)
    off_axle = model["com"][b] - (model["com"][b] @ d) * d
    if np.abs(rest).max() > ROUND * spin or np.abs(off_axle).max() > ROUND:
        raise EngineError(
            f"engine 'compiled' takes round wheels only, and '{name}' is out of balance; "
            "use --engine pybullet or mujoco"
        )
    return spin


def _carry(values: Records, model: Records, b: int) -> None:
    """Count wheel b with its carrier, but for its inertia about its axle."""
    both, axle = [int(model["parent"][b]), b], model["axis"][b]
    mass = values["mass"][both]
    coms = values["com"][both] + [np.zeros(3), model["origin"][b]]
    com = mass @ coms / mass.sum()
    values["inertia"][b] -= values["spin"][b] * np.outer(axle, axle)
    inertia = sum(
        about(values["inertia"][k], m, at - com) for k, m, at in zip(both, mass, coms, strict=True)
    )
    for name, whole in (("mass", mass.sum()), ("com", com), ("inertia", inertia)):
        values[name][both[0]], values[name][b] = whole, 0.0
