"""Steps of the compiled engine: forces, accelerations, semi-implicit Euler."""

from math import cos, sin, sqrt

from sidehill.dynamics.bias import bias_forces, bias_motion, spin_forces
from sidehill.dynamics.inertia import place_inertias
from sidehill.dynamics.matrix import assemble
from sidehill.dynamics.solve import factor, solve
from sidehill.dynamics.tree import BASE, Above, cross
from sidehill.jit import kernel
from sidehill.kinematics import base_from_com
from sidehill.layout import CHASSIS, Records, Vector
from sidehill.step import forces
from sidehill.terrain.height import Ground


@kernel
def accelerate(
    models: Records, gyrostats: Records, states: Records, works: Records, trees: Records,
    above: Above,
) -> None:  # fmt: skip
    """Accelerations of the tree under the generalised forces of the scratch record.

    Into the tree's `right`: of the chassis, angular and of the point, then of the joints.
    Wants places, axes and velocities of the bodies in the scratch record.
    """
    tree, count = trees[0], BASE + int(models[0].bodies) - 1
    place_inertias(models, gyrostats, works, trees)
    bias_motion(models, states, works, trees)
    bias_forces(models, works, trees)
    spin_forces(models, gyrostats, states, works, trees)
    assemble(models, gyrostats, works, trees)
    factor(tree.matrix, above, count)
    solve(tree.matrix, above, count, tree.right)


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
        state.rate[j] += time * a[BASE + j]
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
