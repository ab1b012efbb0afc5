"""Scratch of the forward dynamics, and the vector arithmetic that it is written in.

Everything is in world axes about one point, fixed in the chassis, in a frame that moves
along with it. With a common point the spatial inertias and forces of all bodies simply add
(Featherstone, Rigid Body Dynamics Algorithms, 2008, ch. 2).
"""

import numpy as np
from numpy.typing import NDArray

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import BODIES, CHASSIS, F8, JOINTS, WHEEL_FL, WHEEL_RR, Records, Vector

BASE = 6  # degrees of freedom of the chassis: angular x y z, then linear x y z of the point
WHEELS = 4  # their spins are solved by themselves
DOFS = BASE + JOINTS - WHEELS  # then the other joints, in order

Above = NDArray[np.int64]  # (rows,) the next row toward the base; -1: none

TREE = np.dtype(
    [
        ("point", F8, (3,)),  # [m] the common point from the chassis frame origin
        # joint motion: unit rate turns a body by work.axis and sweeps the point along by
        ("sweep", F8, (BODIES, 3)),  # [m]
        # inertia about the point, of each body and then of its subtree
        ("mass", F8, (BODIES,)),  # [kg]
        ("first", F8, (BODIES, 3)),  # [kg m] mass times com
        ("second", F8, (BODIES, 6)),  # [kg m^2] xx yy zz xy xz yz
        # velocity, and acceleration while no rate changes
        ("velocity", F8, (BODIES, 3)),  # [m/s]
        ("angular", F8, (BODIES, 3)),  # [rad/s^2]
        ("linear", F8, (BODIES, 3)),  # [m/s^2]
        # what that motion takes, of each body and then of its subtree
        ("moment", F8, (BODIES, 3)),  # [N m]
        ("force", F8, (BODIES, 3)),  # [N]
        ("matrix", F8, (DOFS, DOFS)),  # joint-space inertia, lower triangle; then its factors
        ("right", F8, (DOFS,)),  # generalised force; then acceleration
        ("joint", F8, (JOINTS,)),  # [rad/s^2] acceleration of all joints
    ]
)


@kernel
def is_wheel(b: int) -> bool:
    """Whether body b spins on an axle."""
    return WHEEL_FL <= b <= WHEEL_RR


@kernel
def row_of(b: int) -> int:
    """Row of the joint that carries body b, no wheel, in the matrix."""
    return BASE + b - 1 if b < WHEEL_FL else BASE + b - 1 - WHEELS


def rows_above(models: Records) -> Above:
    """The expanded parent array of the tree (Featherstone, ch. 6), the base a chain of six."""
    bodies = int(models["bodies"][0])
    above = np.arange(-1, BASE - 1 + bodies - 1 - WHEELS)
    for b in range(1, bodies):
        p = int(models["parent"][0, b])
        if not is_wheel(b):
            above[row_of(b)] = row_of(p) if p != CHASSIS else BASE - 1
    return above


@kernel
def cross(
    ax: float, ay: float, az: float, bx: float, by: float, bz: float
) -> tuple[float, float, float]:
    """a x b."""
    return ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx


@kernel
def inertia_times(
    mass: float, h: Vector, J: Vector, wx: float, wy: float, wz: float,
    vx: float, vy: float, vz: float,
) -> tuple[float, float, float, float, float, float]:  # fmt: skip
    """Spatial inertia times spatial velocity: angular and linear momentum.

    h: (3,) first moment [kg m]; J: (6,) second moment [kg m^2]; w, v: angular and linear.
    """
    lx = J[0] * wx + J[3] * wy + J[4] * wz + h[1] * vz - h[2] * vy
    ly = J[3] * wx + J[1] * wy + J[5] * wz + h[2] * vx - h[0] * vz
    lz = J[4] * wx + J[5] * wy + J[2] * wz + h[0] * vy - h[1] * vx
    px = mass * vx - h[1] * wz + h[2] * wy
    py = mass * vy - h[2] * wx + h[0] * wz
    pz = mass * vz - h[0] * wy + h[1] * wx
    return lx, ly, lz, px, py, pz
