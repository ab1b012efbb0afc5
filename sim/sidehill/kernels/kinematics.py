"""Tree kinematics and generalised forces: world-frame recursions over the flat model.

Places and velocities outward from the chassis, wrenches inward to it (the two passes of
Featherstone, Rigid Body Dynamics Algorithms, 2008, ch. 5). Wheels do not need their spin
angle here: a wheel is round, so its frame is its carrier's.
"""

from math import cos, sin

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import CHASSIS, SPIN, Records, Vector


@kernel
def copy(source: Vector, target: Vector) -> None:
    """One after another: assigning a slice may allocate."""
    for k in range(source.size):
        target[k] = source[k]


@kernel
def quaternion_matrix(q: Vector, out: Vector) -> None:
    """Rotation matrix (3, 3) of the quaternion q (4,), x y z w, into `out`."""
    x, y, z, w = q[0], q[1], q[2], q[3]
    out[0, 0], out[0, 1], out[0, 2] = (
        1 - 2 * (y * y + z * z),
        2 * (x * y - z * w),
        2 * (x * z + y * w),
    )
    out[1, 0], out[1, 1], out[1, 2] = (
        2 * (x * y + z * w),
        1 - 2 * (x * x + z * z),
        2 * (y * z - x * w),
    )
    out[2, 0], out[2, 1], out[2, 2] = (
        2 * (x * z - y * w),
        2 * (y * z + x * w),
        1 - 2 * (x * x + y * y),
    )


@kernel
def turn_about(carrier: Vector, axis: Vector, angle: float, out: Vector) -> None:
    """carrier (3, 3) times the rotation by `angle` [rad] about `axis`, into `out`."""
    c, s = cos(angle), sin(angle)
    x, y, z = axis[0], axis[1], axis[2]
    t = 1.0 - c
    for row in range(3):
        a, b, d = carrier[row, 0], carrier[row, 1], carrier[row, 2]
        along = t * (a * x + b * y + d * z)
        out[row, 0] = c * a + along * x + s * (b * z - d * y)
        out[row, 1] = c * b + along * y + s * (d * x - a * z)
        out[row, 2] = c * d + along * z + s * (a * y - b * x)


@kernel
def place_com(models: Records, works: Records, b: int) -> None:
    """The world place of body `b`'s com, from its place and rotation."""
    R, c, o = works[0].rotation[b], models[0].com[b], works[0].place[b]
    for k in range(3):
        works[0].com[b, k] = o[k] + R[k, 0] * c[0] + R[k, 1] * c[1] + R[k, 2] * c[2]


@kernel
def forward(models: Records, states: Records, works: Records) -> None:
    """Place, rotation, com and velocity of every body in the world, into the scratch record."""
    model, state, work = models[0], states[0], works[0]
    quaternion_matrix(state.quaternion, work.rotation[CHASSIS])
    for k in range(3):
        work.place[CHASSIS, k] = state.position[k]
        work.velocity[CHASSIS, k] = state.velocity[k]
        work.turning[CHASSIS, k] = state.turning[k]
    place_com(models, works, CHASSIS)
    for b in range(1, int(model.bodies)):
        p = int(model.parent[b])
        R, o, d = work.rotation[p], model.origin[b], model.axis[b]
        x = R[0, 0] * o[0] + R[0, 1] * o[1] + R[0, 2] * o[2]
        y = R[1, 0] * o[0] + R[1, 1] * o[1] + R[1, 2] * o[2]
        z = R[2, 0] * o[0] + R[2, 1] * o[1] + R[2, 2] * o[2]
        work.place[b, 0] = work.place[p, 0] + x
        work.place[b, 1] = work.place[p, 1] + y
        work.place[b, 2] = work.place[p, 2] + z
        w = work.turning[p]
        work.velocity[b, 0] = work.velocity[p, 0] + w[1] * z - w[2] * y
        work.velocity[b, 1] = work.velocity[p, 1] + w[2] * x - w[0] * z
        work.velocity[b, 2] = work.velocity[p, 2] + w[0] * y - w[1] * x
        spinning = SPIN < b <= SPIN + 4
        rate = 0.0 if spinning else state.rate[b - 1]
        for k in range(3):
            work.axis[b, k] = R[k, 0] * d[0] + R[k, 1] * d[1] + R[k, 2] * d[2]
            work.turning[b, k] = w[k] + rate * work.axis[b, k]
        if spinning:
            for i in range(3):
                for k in range(3):
                    work.rotation[b, i, k] = R[i, k]
        else:
            turn_about(R, d, state.joint[b - 1], work.rotation[b])
        place_com(models, works, b)


@kernel
def clear_forces(works: Records) -> None:
    """Zero what `add_force` and the actuators collect."""
    work = works[0]
    work.force[:, :] = 0.0
    work.moment[:, :] = 0.0
    work.torque[:] = 0.0


@kernel
def add_force(
    works: Records, b: int, fx: float, fy: float, fz: float, x: float, y: float, z: float
) -> None:
    """Force [N] on body `b` at the world point (x, y, z) [m]."""
    work = works[0]
    work.force[b, 0] += fx
    work.force[b, 1] += fy
    work.force[b, 2] += fz
    work.moment[b, 0] += y * fz - z * fy
    work.moment[b, 1] += z * fx - x * fz
    work.moment[b, 2] += x * fy - y * fx


@kernel
def add_weight(models: Records, works: Records) -> None:
    """Weight of every body under the scratch record's gravity."""
    model, work = models[0], works[0]
    g = work.gravity
    for b in range(int(model.bodies)):
        c, m = work.com[b], model.mass[b]
        add_force(works, b, m * g[0], m * g[1], m * g[2], c[0], c[1], c[2])


@kernel
def generalise(models: Records, works: Records) -> None:
    """Forces on the bodies and actuator torques -> generalised forces of the tree.

    The chassis' part is about the chassis frame origin, world axes.
    """
    model, work = models[0], works[0]
    for b in range(int(model.bodies) - 1, 0, -1):
        p = int(model.parent[b])
        F, M, o, d = work.force[b], work.moment[b], work.place[b], work.axis[b]
        work.joint_force[b - 1] = (
            work.torque[b - 1]
            + d[0] * (M[0] - o[1] * F[2] + o[2] * F[1])
            + d[1] * (M[1] - o[2] * F[0] + o[0] * F[2])
            + d[2] * (M[2] - o[0] * F[1] + o[1] * F[0])
        )
        for k in range(3):
            work.force[p, k] += F[k]
            work.moment[p, k] += M[k]
    F, M, o = work.force[CHASSIS], work.moment[CHASSIS], work.place[CHASSIS]
    for k in range(3):
        work.base_force[k] = F[k]
    work.base_moment[0] = M[0] - o[1] * F[2] + o[2] * F[1]
    work.base_moment[1] = M[1] - o[2] * F[0] + o[0] * F[2]
    work.base_moment[2] = M[2] - o[0] * F[1] + o[1] * F[0]


@kernel
def base_from_com(states: Records, com: Vector, R: Vector) -> None:
    """Chassis place and velocity given at its com (3,) [m] -> at its link frame, in the state.

    R: (3, 3) scratch, gets the chassis rotation.
    """
    state = states[0]
    quaternion_matrix(state.quaternion, R)
    x = R[0, 0] * com[0] + R[0, 1] * com[1] + R[0, 2] * com[2]
    y = R[1, 0] * com[0] + R[1, 1] * com[1] + R[1, 2] * com[2]
    z = R[2, 0] * com[0] + R[2, 1] * com[1] + R[2, 2] * com[2]
    w = state.turning
    state.position[0] -= x
    state.position[1] -= y
    state.position[2] -= z
    state.velocity[0] -= w[1] * z - w[2] * y
    state.velocity[1] -= w[2] * x - w[0] * z
    state.velocity[2] -= w[0] * y - w[1] * x


@kernel
def pull_inertial(
    states: Records,
    place: tuple[float, float, float],
    turn: tuple[float, float, float, float],
    velocity: tuple[float, float, float],
    turning: tuple[float, float, float],
    com: Vector,
    principal: Vector,
    R: Vector,
) -> None:
    """Motion of the chassis' inertial frame, turned by `principal` (4,) x y z w in the link
    frame and at its com (3,) [m], into the state; R: (3, 3) scratch."""
    state = states[0]
    ax, ay, az, aw = turn
    bx, by, bz, bw = -principal[0], -principal[1], -principal[2], principal[3]
    q = state.quaternion
    q[0] = aw * bx + ax * bw + ay * bz - az * by
    q[1] = aw * by - ax * bz + ay * bw + az * bx
    q[2] = aw * bz + ax * by - ay * bx + az * bw
    q[3] = aw * bw - ax * bx - ay * by - az * bz
    for k in range(3):
        state.position[k], state.velocity[k] = place[k], velocity[k]
        state.turning[k] = turning[k]
    base_from_com(states, com, R)


@kernel
def push_generalised(works: Records, com: Vector, qfrc: Vector, rates: Vector) -> None:
    """Generalised forces of the scratch record into a force vector whose base acts at the
    chassis com (3,) [m], moment in chassis axes; rates (n,): the joints' places in it."""
    work = works[0]
    R, F, M = work.rotation[CHASSIS], work.base_force, work.base_moment
    x = R[0, 0] * com[0] + R[0, 1] * com[1] + R[0, 2] * com[2]
    y = R[1, 0] * com[0] + R[1, 1] * com[1] + R[1, 2] * com[2]
    z = R[2, 0] * com[0] + R[2, 1] * com[1] + R[2, 2] * com[2]
    mx = M[0] - (y * F[2] - z * F[1])
    my = M[1] - (z * F[0] - x * F[2])
    mz = M[2] - (x * F[1] - y * F[0])
    for k in range(3):
        qfrc[k] = F[k]
        qfrc[3 + k] = R[0, k] * mx + R[1, k] * my + R[2, k] * mz
    for j in range(rates.shape[0]):
        qfrc[rates[j]] = work.joint_force[j]


@kernel
def pull_generalised(
    states: Records,
    com: Vector,
    qpos: Vector,
    qvel: Vector,
    places: Vector,
    rates: Vector,
    R: Vector,
) -> None:
    """Pose (place of the com, quaternion w x y z, joints) and rates (its velocity in world
    axes, angular velocity in chassis axes, joints) into the state; R: (3, 3) scratch."""
    state = states[0]
    copy(qpos[4:7], state.quaternion)
    state.quaternion[3] = qpos[3]
    quaternion_matrix(state.quaternion, R)
    for k in range(3):
        state.position[k], state.velocity[k] = qpos[k], qvel[k]
        state.turning[k] = R[k, 0] * qvel[3] + R[k, 1] * qvel[4] + R[k, 2] * qvel[5]
    base_from_com(states, com, R)
    for j in range(places.shape[0]):
        state.joint[j] = qpos[places[j]]
        state.rate[j] = qvel[rates[j]]
