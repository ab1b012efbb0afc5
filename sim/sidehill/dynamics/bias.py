"""Bias forces: what the present velocities take while no rate changes."""

from sidehill.dynamics.tree import cross, inertia_times, is_wheel
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import CHASSIS, WHEEL_FL, WHEEL_RR, Records


@kernel
def bias_motion(models: Records, states: Records, works: Records, trees: Records) -> None:
    """Spatial velocity and acceleration of every body, the joints' own accelerations zero.

    The outward pass of the recursive Newton-Euler algorithm (Featherstone, ch. 5). In the
    frame that moves along with the common point the chassis only turns.
    """
    model, state, work, tree = models[0], states[0], works[0], trees[0]
    for k in range(3):
        tree.velocity[CHASSIS, k] = tree.angular[CHASSIS, k] = tree.linear[CHASSIS, k] = 0.0
    for b in range(1, int(model.bodies)):
        if is_wheel(b):
            continue
        p, rate = int(model.parent[b]), state.rate[b - 1]
        w, v = work.turning[p], tree.velocity[p]
        dx, dy, dz = rate * work.axis[b, 0], rate * work.axis[b, 1], rate * work.axis[b, 2]
        sx, sy, sz = rate * tree.sweep[b, 0], rate * tree.sweep[b, 1], rate * tree.sweep[b, 2]
        ax, ay, az = cross(w[0], w[1], w[2], dx, dy, dz)
        bx, by, bz = cross(v[0], v[1], v[2], dx, dy, dz)
        cx, cy, cz = cross(w[0], w[1], w[2], sx, sy, sz)
        tree.velocity[b, 0] = v[0] + sx
        tree.velocity[b, 1] = v[1] + sy
        tree.velocity[b, 2] = v[2] + sz
        tree.angular[b, 0] = tree.angular[p, 0] + ax
        tree.angular[b, 1] = tree.angular[p, 1] + ay
        tree.angular[b, 2] = tree.angular[p, 2] + az
        tree.linear[b, 0] = tree.linear[p, 0] + bx + cx
        tree.linear[b, 1] = tree.linear[p, 1] + by + cy
        tree.linear[b, 2] = tree.linear[p, 2] + bz + cz


@kernel
def bias_forces(models: Records, works: Records, trees: Records) -> None:
    """Newton and Euler for every body: f = I a + v x* I v (Featherstone, ch. 2)."""
    work, tree = works[0], trees[0]
    for b in range(int(models[0].bodies)):
        if is_wheel(b):
            continue
        m, h, J = tree.mass[b], tree.first[b], tree.second[b]
        w, v, a, A = work.turning[b], tree.velocity[b], tree.linear[b], tree.angular[b]
        lx, ly, lz, px, py, pz = inertia_times(m, h, J, w[0], w[1], w[2], v[0], v[1], v[2])
        nx, ny, nz, fx, fy, fz = inertia_times(m, h, J, A[0], A[1], A[2], a[0], a[1], a[2])
        ux, uy, uz = cross(w[0], w[1], w[2], lx, ly, lz)
        tx, ty, tz = cross(v[0], v[1], v[2], px, py, pz)
        gx, gy, gz = cross(w[0], w[1], w[2], px, py, pz)
        n, f = tree.moment[b], tree.force[b]
        n[0], n[1], n[2] = nx + ux + tx, ny + uy + ty, nz + uz + tz
        f[0], f[1], f[2] = fx + gx, fy + gy, fz + gz


@kernel
def spin_forces(
    models: Records, gyrostats: Records, states: Records, works: Records, trees: Records
) -> None:
    """What free wheels take from their carriers: to turn the momentum of their spin, and the
    torque that spins them up."""
    work, tree = works[0], trees[0]
    for b in range(WHEEL_FL, WHEEL_RR + 1):
        n, d, w = tree.moment[int(models[0].parent[b])], work.axis[b], work.turning[b]
        rate = states[0].rate[b - 1] + d[0] * w[0] + d[1] * w[1] + d[2] * w[2]
        momentum, torque = gyrostats[0].spin[b] * rate, work.joint_force[b - 1]
        x, y, z = cross(w[0], w[1], w[2], momentum * d[0], momentum * d[1], momentum * d[2])
        n[0], n[1], n[2] = (
            n[0] + x + torque * d[0],
            n[1] + y + torque * d[1],
            n[2] + z + torque * d[2],
        )
