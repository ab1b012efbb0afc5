"""Past the point of no return: plain shapes meet the ground. Illustrative.

The tyre law ends where a wheel lies on its side. From there corners and rims touch the
ground, each with a spring, a damper that never pulls, and friction that is viscous near
rest; the same code in every engine.
"""

from math import pi, sqrt

from sidehill.kernels.height import Ground, height, surface
from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import add_force
from sidehill.kernels.layout import (
    POINT_BODY,
    POINT_PART,
    POINT_X,
    RESTED,
    ROLLED_ON,
    SPIN,
    STILL_MOVING,
    WHEEL_FL,
    WHEEL_RR,
    Records,
    Vector,
)

STIFFNESS, DAMPING = 1e5, 2e3  # [N/m], [N s/m] of one point
GRIP_SPEED = 0.05  # [m/s] below it friction fades
QUIET, QUIET_TIME = 0.05, 0.5  # [m/s] and [rad/s], [s]: at rest
LONGEST = 8.0  # [s] a fall is followed for
OVER_AND_OVER = 2.5 * pi  # [rad] past it the machine rolls on


@kernel
def fall_forces(
    cases: Records, states: Records, works: Records, ground: Ground, points: Vector
) -> None:
    """Forces of the contact points (n, 5) on their bodies; first touches into the state."""
    case, state, work = cases[0], states[0], works[0]
    state.load[:] = 0.0  # the tyre law is over
    state.slip[:] = 0.0
    for n in range(points.shape[0]):
        b = int(points[n, POINT_BODY])
        R, o = work.rotation[b], work.place[b]
        x, y, z = points[n, POINT_X], points[n, POINT_X + 1], points[n, POINT_X + 2]
        rx = R[0, 0] * x + R[0, 1] * y + R[0, 2] * z
        ry = R[1, 0] * x + R[1, 1] * y + R[1, 2] * z
        rz = R[2, 0] * x + R[2, 1] * y + R[2, 2] * z
        px, py, pz = o[0] + rx, o[1] + ry, o[2] + rz
        sink = height(px, py, ground) - pz
        if sink <= 0.0:
            continue
        _, gx, gy = surface(px, py, ground)
        nz = 1.0 / sqrt(1.0 + gx * gx + gy * gy)
        nx, ny = -gx * nz, -gy * nz
        spin = state.rate[SPIN + b - WHEEL_FL] if WHEEL_FL <= b <= WHEEL_RR else 0.0
        wx, wy, wz = work.turning[b, 0], work.turning[b, 1], work.turning[b, 2]
        wx += spin * work.axis[b, 0]
        wy += spin * work.axis[b, 1]
        wz += spin * work.axis[b, 2]
        vx = work.velocity[b, 0] + wy * rz - wz * ry
        vy = work.velocity[b, 1] + wz * rx - wx * rz
        vz = work.velocity[b, 2] + wx * ry - wy * rx
        away = vx * nx + vy * ny + vz * nz
        push = STIFFNESS * sink * nz - DAMPING * away
        if push <= 0.0:
            continue
        part = int(points[n, POINT_PART])
        if state.touch_step[part] == 0.0:
            state.touch_step[part] = state.step
        vx, vy, vz = vx - away * nx, vy - away * ny, vz - away * nz
        drag = -case.friction * push / sqrt(vx * vx + vy * vy + vz * vz + GRIP_SPEED**2)
        add_force(
            works, b, push * nx + drag * vx, push * ny + drag * vy, push * nz + drag * vz,
            px, py, pz,
        )  # fmt: skip


@kernel
def fall_end(cases: Records, states: Records, before: float) -> float:
    """Why the fall ends at this step, or RUNNING; `before`: [rad] roll a step ago."""
    case, state = cases[0], states[0]
    turn = state.roll - before
    if turn > pi:
        turn -= 2.0 * pi
    elif turn < -pi:
        turn += 2.0 * pi
    state.turned_over += turn
    if abs(state.turned_over) > OVER_AND_OVER:
        return ROLLED_ON
    state.quiet_steps += 1.0
    for k in range(3):
        if abs(state.velocity[k]) > QUIET or abs(state.turning[k]) > QUIET:
            state.quiet_steps = 0.0
    if state.quiet_steps * case.step > QUIET_TIME:
        return RESTED
    return STILL_MOVING if (state.step - state.fall_step) * case.step > LONGEST else 0.0
