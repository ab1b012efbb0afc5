"""Inertia of every body in world axes about the common point."""

from sidehill.dynamics.tree import cross, is_wheel
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import CHASSIS, Records, Vector


@kernel
def turn_inertia(R: Vector, J: Vector, out: Vector) -> None:
    """R J R^T (3, 3) of a symmetric J as xx yy zz xy xz yz, into `out` (6,)."""
    ax = R[0, 0] * J[0, 0] + R[0, 1] * J[1, 0] + R[0, 2] * J[2, 0]
    ay = R[0, 0] * J[0, 1] + R[0, 1] * J[1, 1] + R[0, 2] * J[2, 1]
    az = R[0, 0] * J[0, 2] + R[0, 1] * J[1, 2] + R[0, 2] * J[2, 2]
    bx = R[1, 0] * J[0, 0] + R[1, 1] * J[1, 0] + R[1, 2] * J[2, 0]
    by = R[1, 0] * J[0, 1] + R[1, 1] * J[1, 1] + R[1, 2] * J[2, 1]
    bz = R[1, 0] * J[0, 2] + R[1, 1] * J[1, 2] + R[1, 2] * J[2, 2]
    cx = R[2, 0] * J[0, 0] + R[2, 1] * J[1, 0] + R[2, 2] * J[2, 0]
    cy = R[2, 0] * J[0, 1] + R[2, 1] * J[1, 1] + R[2, 2] * J[2, 1]
    cz = R[2, 0] * J[0, 2] + R[2, 1] * J[1, 2] + R[2, 2] * J[2, 2]
    out[0] = ax * R[0, 0] + ay * R[0, 1] + az * R[0, 2]
    out[1] = bx * R[1, 0] + by * R[1, 1] + bz * R[1, 2]
    out[2] = cx * R[2, 0] + cy * R[2, 1] + cz * R[2, 2]
    out[3] = ax * R[1, 0] + ay * R[1, 1] + az * R[1, 2]
    out[4] = ax * R[2, 0] + ay * R[2, 1] + az * R[2, 2]
    out[5] = bx * R[2, 0] + by * R[2, 1] + bz * R[2, 2]


@kernel
def place_inertias(models: Records, gyrostats: Records, works: Records, trees: Records) -> None:
    """Spatial inertia of every body (Featherstone, ch. 2) and motion of every joint."""
    gyro, work, tree = gyrostats[0], works[0], trees[0]
    R, c = work.rotation[CHASSIS], gyro.anchor
    for k in range(3):
        tree.point[k] = R[k, 0] * c[0] + R[k, 1] * c[1] + R[k, 2] * c[2]
    for b in range(int(models[0].bodies)):
        if is_wheel(b):
            continue
        R, c, m, d = work.rotation[b], gyro.com[b], gyro.mass[b], work.axis[b]
        h, J, s = tree.first[b], tree.second[b], tree.sweep[b]
        ox = work.place[b, 0] - work.place[CHASSIS, 0] - tree.point[0]
        oy = work.place[b, 1] - work.place[CHASSIS, 1] - tree.point[1]
        oz = work.place[b, 2] - work.place[CHASSIS, 2] - tree.point[2]
        s[0], s[1], s[2] = cross(ox, oy, oz, d[0], d[1], d[2])
        x = ox + R[0, 0] * c[0] + R[0, 1] * c[1] + R[0, 2] * c[2]
        y = oy + R[1, 0] * c[0] + R[1, 1] * c[1] + R[1, 2] * c[2]
        z = oz + R[2, 0] * c[0] + R[2, 1] * c[1] + R[2, 2] * c[2]
        turn_inertia(R, gyro.inertia[b], J)
        tree.mass[b] = m
        h[0], h[1], h[2] = m * x, m * y, m * z
        J[0] += m * (y * y + z * z)
        J[1] += m * (z * z + x * x)
        J[2] += m * (x * x + y * y)
        J[3] -= m * x * y
        J[4] -= m * x * z
        J[5] -= m * y * z
