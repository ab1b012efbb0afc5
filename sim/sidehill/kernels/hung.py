"""A load on a rope from a hook at the bucket: a point mass that the kernels move on themselves.

The rope pulls and never pushes. Standing, the load hangs plumb, so that its weight acts at the
hook whatever the rope's length. It meets neither ground nor machine.
"""

from math import sqrt

from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import add_force
from sidehill.kernels.layout import FALLING, SETTLE, Records, Vector


@kernel
def find_hook(cases: Records, works: Records, place: Vector) -> None:
    """The hook's place (3,) [m], world."""
    case, work = cases[0], works[0]
    b, h = int(case.hook_body), case.hook
    R, o = work.rotation[b], work.place[b]
    for k in range(3):
        place[k] = o[k] + R[k, 0] * h[0] + R[k, 1] * h[1] + R[k, 2] * h[2]


@kernel
def hang_still(cases: Records, works: Records) -> None:
    """The weight of a load that hangs plumb and still, onto its hook."""
    case, place = cases[0], works[0].scratch[0]
    g = works[0].gravity
    m = case.hung_mass
    find_hook(cases, works, place)
    add_force(
        works, int(case.hook_body), m * g[0], m * g[1], m * g[2], place[0], place[1], place[2]
    )  # fmt: skip


@kernel
def sway(cases: Records, states: Records, works: Records) -> None:
    """One step of the load on its rope, and its pull at the hook. In a fall it is let go."""
    case, state, work = cases[0], states[0], works[0]
    if state.stage == FALLING:
        return
    b = int(case.hook_body)
    hook, r, u, pull = work.scratch[0], work.scratch[1], work.scratch[2], work.scratch[3]
    find_hook(cases, works, hook)
    o, v, w = work.place[b], work.velocity[b], work.turning[b]
    x, y, z = hook[0] - o[0], hook[1] - o[1], hook[2] - o[2]
    u[0] = state.hung_velocity[0] - (v[0] + w[1] * z - w[2] * y)
    u[1] = state.hung_velocity[1] - (v[1] + w[2] * x - w[0] * z)
    u[2] = state.hung_velocity[2] - (v[2] + w[0] * y - w[1] * x)
    for k in range(3):
        r[k] = state.hung_place[k] - hook[k]
    length = sqrt(r[0] * r[0] + r[1] * r[1] + r[2] * r[2])
    along = (u[0] * r[0] + u[1] * r[1] + u[2] * r[2]) / length
    tight = 0.0
    if length > case.rope:
        tight = case.rope_stiffness * (length - case.rope) + case.rope_damping * along
        tight = max(tight, 0.0)
    calm = case.sway_damping[0] if state.stage == SETTLE else case.sway_damping[1]
    g = work.gravity
    for k in range(3):
        n = r[k] / length
        pull[k] = tight * n + calm * (u[k] - along * n)
        state.hung_velocity[k] += case.step * (g[k] - pull[k] / case.hung_mass)
        state.hung_place[k] += case.step * state.hung_velocity[k]
    add_force(works, b, pull[0], pull[1], pull[2], hook[0], hook[1], hook[2])
