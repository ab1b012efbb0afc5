"""Two angles of a pose: how far from going over as a whole, and from lifting a rear wheel.

The balance angle freezes the whole machine and asks by how much it would still have to turn
about each edge between its wheels' contacts until gravity carries it over (force-angle measure,
Papadopoulos and Rey 1996; from memory). The lift-off angle asks the same of the body alone
about the line from a rear contact to the front pivot pin. Neither is a margin: motion counts
for nothing in them.
"""

from math import atan2, sqrt

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
def about(p: Vector, q: Vector, c: Vector, g: Vector) -> tuple[float, float]:
    """Sine and cosine, times one positive number, of the angle by which a mass at c would have
    to turn about the line from p to q until gravity g carries it over; the sine is positive
    while the mass lies to the right of the line as seen along it from above."""
    ex, ey, ez = q[0] - p[0], q[1] - p[1], q[2] - p[2]
    rx, ry, rz = c[0] - p[0], c[1] - p[1], c[2] - p[2]
    size = sqrt(ex * ex + ey * ey + ez * ez)
    turn = (
        ex * (ry * g[2] - rz * g[1]) + ey * (rz * g[0] - rx * g[2]) + ez * (rx * g[1] - ry * g[0])
    )
    down = rx * g[0] + ry * g[1] + rz * g[2]
    along = (rx * ex + ry * ey + rz * ez) * (g[0] * ex + g[1] * ey + g[2] * ez)
    return turn, along / size - size * down


@kernel
def rank(sine: float, cosine: float) -> float:
    """What grows with the angle of a sine and a cosine, without an arctangent."""
    share = sine / (abs(sine) + abs(cosine))
    if cosine >= 0.0:
        return share
    return 2.0 - share if sine >= 0.0 else -2.0 - share


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
        c, m = work.com[b], model.mass[b]
        is_axle = b in (AXLE, KNUCKLE_L, KNUCKLE_R, WHEEL_FL, WHEEL_FR)
        mass += m
        own += 0.0 if is_axle else m
        for k in range(3):
            whole[k] += m * c[k]
            body[k] += 0.0 if is_axle else m * c[k]
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
    state, work = states[0], works[0]
    whole, body, c, g = work.scratch[0], work.scratch[1], state.contact, work.gravity
    centres(cases, models, works, whole, body)
    turn, down = about(c[0], c[1], whole, g)  # clockwise from above: the CG is to the right
    for i, j in ((1, 3), (3, 2), (2, 0)):
        sine, cosine = about(c[i], c[j], whole, g)
        if rank(sine, cosine) < rank(turn, down):
            turn, down = sine, cosine
    state.balance = atan2(turn, down)
    left, low = about(c[2], work.place[AXLE], body, g)
    right, under = about(work.place[AXLE], c[3], body, g)
    if rank(right, under) < rank(left, low):
        left, low = right, under
    state.lift_off = atan2(left, low)
