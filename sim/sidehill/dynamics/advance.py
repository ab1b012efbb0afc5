"""Steps of the compiled engine: forces, accelerations, semi-implicit Euler."""

from math import cos, sin, sqrt

from sidehill.dynamics.bias import bias_forces, bias_motion, spin_forces
from sidehill.dynamics.inertia import place_inertias
from sidehill.dynamics.matrix import assemble
from sidehill.dynamics.solve import factor, solve
from sidehill.dynamics.tree import Above, cross, is_wheel, row_of
from sidehill.kernels.height import Ground
from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import base_from_com
from sidehill.kernels.layout import CHASSIS, WHEEL_FL, WHEEL_RR, Records, Vector
from sidehill.kernels.step import forces


@kernel
def accelerate(
    models: Records, gyrostats: Records, states: Records, works: Records, trees: Records,
    above: Above,
) -> None:  # fmt: skip
    """Accelerations of the tree under the generalised forces of the scratch record.

    Into the tree's `right`: of the chassis, angular and of the point; into its `joint`.
    Wants places, axes and velocities of the bodies in the scratch record.
    """
    tree = trees[0]
    place_inertias(models, gyrostats, works, trees)
    bias_motion(models, states, works, trees)
    bias_forces(models, works, trees)
    spin_forces(models, gyrostats, states, works, trees)
    assemble(models, works, trees)
    factor(tree.matrix, above)
    solve(tree.matrix, above, tree.right)
    hand_out(models, gyrostats, works, trees)


@kernel
def hand_out(models: Records, gyrostats: Records, works: Records, trees: Records) -> None:
    """Accelerations of the joints from the solution; a wheel's from its torque, less the
    turning of its carrier."""
    model, work, tree = models[0], works[0], trees[0]
    for b in range(1, int(model.bodies)):
        if not is_wheel(b):
            tree.joint[b - 1] = tree.right[row_of(b)]
    for b in range(WHEEL_FL, WHEEL_RR + 1):
        d, carrier = work.axis[b], int(model.parent[b])
        A, R = tree.angular[carrier], tree.right
        turn = d[0] * (A[0] + R[0]) + d[1] * (A[1] + R[1]) + d[2] * (A[2] + R[2])
        while carrier != CHASSIS:
            e = work.axis[carrier]
            turn += tree.joint[carrier - 1] * (d[0] * e[0] + d[1] * e[1] + d[2] * e[2])
            carrier = int(model.parent[carrier])
        tree.joint[b - 1] = work.joint_force[b - 1] / gyrostats[0].spin[b] - turn


@kernel
def turn_quaternion(q: Vector, w: Vector, time: float) -> None:
    """q (4,) x y z w turned for `time` [s] at w (3,) [rad/s], world axes, in its place.

    The exponential map: exact while w does not change, and it keeps q's length.
    """
    speed = sqrt(w[0] * w[0] + w[1] * w[1] + w[2] * w[2])
    half = 0.5 * speed * time
    part = 0.5 * time if half < 1e-8 else sin(half) / speed
    ax, ay, az, aw = part * w[0], part * w[1], part * w[2], cos(half)
    bx, by, bz, bw = q[0], q[1], q[2], q[3]
    x, y, z = cross(ax, ay, az, bx, by, bz)
    x, y, z = x + aw * bx + bw * ax, y + aw * by + bw * ay, z + aw * bz + bw * az
    s = aw * bw - ax * bx - ay * by - az * bz
    size = sqrt(x * x + y * y + z * z + s * s)
    q[0], q[1], q[2], q[3] = x / size, y / size, z / size, s / size


@kernel
def integrate(
    models: Records, gyrostats: Records, states: Records, works: Records, trees: Records,
    time: float,
) -> None:  # fmt: skip
    """Semi-implicit Euler over `time` [s]: rates first, then the pose with the new rates.

    The chassis is carried on at the common point. At the com this keeps momentum.
    """
    state, tree, w = states[0], trees[0], works[0].turning[CHASSIS]
    c, a = tree.point, tree.right
    v = state.velocity
    x, y, z = cross(w[0], w[1], w[2], c[0], c[1], c[2])
    v[0], v[1], v[2] = v[0] + x, v[1] + y, v[2] + z  # of the point
    for k in range(3):
        state.turning[k] += time * a[k]
        v[k] += time * a[3 + k]
        state.position[k] += c[k] + time * v[k]
    for j in range(int(models[0].bodies) - 1):
        state.rate[j] += time * tree.joint[j]
        state.joint[j] += time * state.rate[j]
    turn_quaternion(state.quaternion, state.turning, time)
    base_from_com(states, gyrostats[0].anchor, works[0].rotation[CHASSIS])


@kernel
def advance(
    cases: Records, models: Records, gyrostats: Records, states: Records, works: Records,
    trees: Records, above: Above, ground: Ground, points: Vector, rows: Records, n: int,
) -> int:  # fmt: skip
    """At most n steps; stops on a finish code. Returns the steps done."""
    for done in range(n):
        if not forces(cases, models, states, works, ground, points, rows):
            return done
        accelerate(models, gyrostats, states, works, trees, above)
        integrate(models, gyrostats, states, works, trees, cases[0].step)
    return n
