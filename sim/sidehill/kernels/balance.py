"""Two angles of a pose: how far from going over as a whole, and from lifting a rear wheel.

The balance angle freezes the whole machine and asks by how much it would still have to turn
about each edge between its wheels' contacts until gravity carries it over (force-angle measure,
Papadopoulos and Rey 1996; from memory). The lift-off angle asks the same of the body alone
about the line from a rear contact to the front pivot pin. Neither is a margin: motion counts
for nothing in them.
"""

from math import atan2, pi, sqrt, tan

from sidehill.kernels.hung import find_hook
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import (
    AXLE,
    KNUCKLE_L,
    KNUCKLE_R,
    WHEEL_FL,
    WHEEL_FR,
    Records,
    Vector,
)


@kernel
def angle_about(
    px: float, py: float, pz: float, qx: float, qy: float, qz: float,
    cx: float, cy: float, cz: float, gx: float, gy: float, gz: float,
) -> float:  # fmt: skip
    """[rad] by which a mass at c would have to turn about the line from p to q until gravity g
    carries it over; positive while it lies to the left of the line as seen along it from above."""
    ax, ay, az = qx - px, qy - py, qz - pz
    size = sqrt(ax * ax + ay * ay + az * az)
    ax, ay, az = ax / size, ay / size, az / size
    rx, ry, rz = cx - px, cy - py, cz - pz
    along = gx * ax + gy * ay + gz * az
    gx, gy, gz = gx - along * ax, gy - along * ay, gz - along * az
    turn = ax * (ry * gz - rz * gy) + ay * (rz * gx - rx * gz) + az * (rx * gy - ry * gx)
    return -atan2(turn, -(rx * gx + ry * gy + rz * gz))


@kernel
def centres(cases: Records, models: Records, works: Records, whole: Vector, body: Vector) -> None:
    """CG [m] of the whole machine and of the body alone (no axle, knuckles, front wheels).

    A hung load counts where its weight acts, at its hook.
    """
    model, work = models[0], works[0]
    whole[:] = 0.0
    body[:] = 0.0
    mass = own = 0.0
    for b in range(int(model.bodies)):
        R, c, m = work.rotation[b], model.com[b], model.mass[b]
        is_axle = b in (AXLE, KNUCKLE_L, KNUCKLE_R, WHEEL_FL, WHEEL_FR)
        mass += m
        own += 0.0 if is_axle else m
        for k in range(3):
            place = work.place[b, k] + R[k, 0] * c[0] + R[k, 1] * c[1] + R[k, 2] * c[2]
            whole[k] += m * place
            body[k] += 0.0 if is_axle else m * place
    if cases[0].hung_mass > 0.0:
        m, hook = cases[0].hung_mass, work.scratch[2]
        find_hook(cases, works, hook)
        mass, own = mass + m, own + m
        for k in range(3):
            whole[k] += m * hook[k]
            body[k] += m * hook[k]
    for k in range(3):
        whole[k] /= mass
        body[k] /= own


@kernel
def balance(cases: Records, models: Records, states: Records, works: Records) -> None:
    """Balance angle and lift-off angle of the present pose into the state."""
    case, state, work = cases[0], states[0], works[0]
    t, g = tan(state.slope), case.grade_tan
    gx, gy, gz = -g, -t * case.downhill, -1.0
    whole, body, c = work.scratch[0], work.scratch[1], state.contact
    centres(cases, models, works, whole, body)
    least = pi
    for i, j in ((0, 1), (1, 3), (3, 2), (2, 0)):  # clockwise from above: the CG is to the right
        angle = angle_about(
            c[i, 0], c[i, 1], c[i, 2], c[j, 0], c[j, 1], c[j, 2],
            whole[0], whole[1], whole[2], gx, gy, gz,
        )  # fmt: skip
        least = min(least, -angle)
    state.balance = least
    pin = work.place[AXLE]
    left = angle_about(
        pin[0], pin[1], pin[2], c[2, 0], c[2, 1], c[2, 2], body[0], body[1], body[2], gx, gy, gz
    )
    right = angle_about(
        pin[0], pin[1], pin[2], c[3, 0], c[3, 1], c[3, 2], body[0], body[1], body[2], gx, gy, gz
    )
    state.lift_off = min(left, -right)
