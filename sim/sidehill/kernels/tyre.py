"""The tyre law: ground and motion of one wheel -> force and torque about its centre.

A wheel is a row of thin discs across its section. Each presses on the ground with a
spring and damper, at its deepest rim point or at the middle of what it envelops
(`foothold`); together they make the load and its place.
One bristle per wheel carries the tangential force, up to the friction limit. The force
acts where the bristle was left behind, since the rim moves sideways off its own patch.
The engines and the compliant statics call this same code.
"""

from math import inf, pi, sqrt

from sidehill.kernels.bristle import bristle
from sidehill.kernels.foothold import foothold
from sidehill.kernels.height import Ground, near_features, tallest
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import Records, Vector

SECTION_SHARE = 0.9  # of the section width that the discs span


@kernel
def add_push(
    rx: float, ry: float, rz: float, fx: float, fy: float, fz: float, force: Vector, moment: Vector
) -> None:  # fmt: skip
    """Add a force f [N] at r [m] from the wheel's centre to `force` and `moment` (3,)."""
    force[0] += fx
    force[1] += fy
    force[2] += fz
    moment[0] += ry * fz - rz * fy
    moment[1] += rz * fx - rx * fz
    moment[2] += rx * fy - ry * fx


@kernel
def clearance(c: Vector, a: Vector, radius: float, section: float, features: Vector) -> float:
    """Height of the wheel's centre over the tallest feature as a share of its radius, 0 to 1:
    the cosine of the angle from straight down beyond which the rim is clear of them all."""
    above: float = c[2] - 0.5 * section * abs(a[2]) - tallest(features)
    return min(max(above / (radius * sqrt(1.0 - a[2] * a[2])), 0.0), 1.0)


@kernel
def met_features(
    c: Vector, a: Vector, radius: float, section: float, ground: Ground
) -> tuple[int, int]:
    """First and past the last of the features that the wheel may meet; others may lie between.

    On smooth ground it may meet those under the part of its rim that is no higher than them.
    """
    half = 0.5 * section
    first, past = near_features(c[0], c[1], radius + half, ground.features)
    if past == 0 or ground.relief.size > 0:
        return first, past
    features = ground.features[first:past]
    share = clearance(c, a, radius, section, features)
    reach = half + radius * (abs(a[2]) + sqrt(1.0 - share * share))
    low, high = near_features(c[0], c[1], reach, features)
    return first + low, first + high if high > 0 else 0


@kernel
def press(
    i: int, cases: Records, ground: Ground, c: Vector, a: Vector, v: Vector,
    w: Vector, softness: float, force: Vector, moment: Vector, foot: Vector,
) -> tuple[float, float]:  # fmt: skip
    """[N] load of wheel `i` and [m] depth of its deepest disc, negative above the ground: the
    discs' pushes into `force` and `moment`, their middle into `foot` (3,) [m] from the centre;
    ground: with the features near the wheel alone; other arguments as in `wheel`."""
    case = cases[0]
    radius, section = case.radius[i], SECTION_SHARE * case.section[i]
    discs = int(case.discs)
    apart, middle = section / discs, 0.5 - 0.5 * discs
    k, damp = case.stiffness[i] / discs, softness * case.damping[i] / discs
    level = sqrt(1.0 - a[2] * a[2])
    ex, ey = a[1] / level, -a[0] / level  # forward, in the disc's plane and horizontal
    dx, dy, dz = a[0] * a[2] / level, a[1] * a[2] / level, -level
    pitch, most = 0.5 * pi / (case.rays - 1.0), 1.0
    near = ground.features.shape[0] > 0 or case.bends == 1.0
    if near and ground.relief.size == 0:  # beyond it the rim is above the tallest feature
        share = clearance(c, a, radius, case.section[i], ground.features)
        most = sqrt((1.0 - share) / (1.0 + share))
    load = m = 0.0
    deep = -inf
    for disc in range(discs):
        across = apart * (disc + middle)
        ox, oy, oz = across * a[0], across * a[1], across * a[2]
        px, py, pz = c[0] + ox, c[1] + oy, c[2] + oz
        co, si, high, gx, gy = foothold(
            case.envelops, near, m, px, py, pz, ex, ey, dx, dy, dz, radius, pitch, most, ground
        )
        m = si / co if co > 0.0 else 0.0
        rx, ry, rz = ox + co * dx + si * ex, oy + co * dy + si * ey, oz + co * dz
        uz = 1.0 / sqrt(1.0 + gx * gx + gy * gy)
        ux, uy = -gx * uz, -gy * uz
        depth = (high - c[2] - rz) * uz
        deep = max(deep, depth)
        if depth <= 0.0:
            continue
        away = (
            ux * (v[0] + w[1] * rz - w[2] * ry)
            + uy * (v[1] + w[2] * rx - w[0] * rz)
            + uz * (v[2] + w[0] * ry - w[1] * rx)
        )
        push = k * depth - damp * away
        if push <= 0.0:
            continue
        load += push
        add_push(rx, ry, rz, push * ux, push * uy, push * uz, force, moment)
        foot[0] += push * rx
        foot[1] += push * ry
        foot[2] += push * rz
    if load > 0.0:
        for n in range(3):
            foot[n] /= load
    return load, deep


@kernel
def press_flat(
    i: int, cases: Records, c: Vector, a: Vector, v: Vector, w: Vector, softness: float,
    force: Vector, moment: Vector, foot: Vector,
) -> tuple[float, float]:  # fmt: skip
    """As `press`, on ground that is flat under the whole wheel."""
    case = cases[0]
    section, discs = SECTION_SHARE * case.section[i], int(case.discs)
    apart, middle = section / discs, 0.5 - 0.5 * discs
    k, damp = case.stiffness[i] / discs, softness * case.damping[i] / discs
    level = sqrt(1.0 - a[2] * a[2])
    drop = case.radius[i] * a[2] / level
    dx, dy, dz = drop * a[0], drop * a[1], -case.radius[i] * level  # down to the rim
    load = px = py = pz = 0.0
    deep = -inf
    for disc in range(discs):
        across = apart * (disc + middle)
        rx, ry, rz = across * a[0] + dx, across * a[1] + dy, across * a[2] + dz
        depth = -c[2] - rz
        deep = max(deep, depth)
        if depth <= 0.0:
            continue
        push = k * depth - damp * (v[2] + w[0] * ry - w[1] * rx)
        if push <= 0.0:
            continue
        load += push
        px, py, pz = px + push * rx, py + push * ry, pz + push * rz
    force[2], moment[0], moment[1] = load, py, -px
    if load > 0.0:
        foot[0], foot[1], foot[2] = px / load, py / load, pz / load
    return load, deep


@kernel
def patch_velocity(
    v: Vector, w: Vector, spin: float, a: Vector, px: float, py: float, pz: float,
    tx: float, ty: float, tz: float, lx: float, ly: float, lz: float,
) -> tuple[float, float]:  # fmt: skip
    """[m/s] of the rim at the patch p [m] from the centre, forward (t) and left (l)."""
    sx, sy, sz = w[0] + spin * a[0], w[1] + spin * a[1], w[2] + spin * a[2]
    vx, vy, vz = v[0] + sy * pz - sz * py, v[1] + sz * px - sx * pz, v[2] + sx * py - sy * px
    return vx * tx + vy * ty + vz * tz, vx * lx + vy * ly + vz * lz


@kernel
def hang(i: int, cases: Records, states: Records, c: Vector, a: Vector) -> None:
    """Contact of wheel `i` in the air: its lowest rim point at the static radius."""
    case, place = cases[0], states[0].contact[i]
    level = sqrt(1.0 - a[2] * a[2])
    radius = case.radius[i] - case.level_load[i] / case.stiffness[i]
    place[0] = c[0] + radius * a[0] * a[2] / level
    place[1] = c[1] + radius * a[1] * a[2] / level
    place[2] = c[2] - radius * level


@kernel
def wheel(
    i: int, cases: Records, states: Records, ground: Ground,
    c: Vector, a: Vector, moved: Vector, turned: Vector, spun: float,
    v: Vector, w: Vector, spin: float, softness: float,
    force: Vector, moment: Vector, foot: Vector,
) -> None:  # fmt: skip
    """Force [N] on wheel `i` and moment [N m] about its centre, and its new bristle.

    c: centre [m]; a: axle unit vector, to the left. moved, turned, spun: velocity [m/s],
    angular velocity without the spin and spin [rad/s] over the last step, which stretch
    the bristle; v, w, spin: the same now, for the dampers. softness: factor on the
    damping. Writes `force`, `moment`, `foot` (3,), and of the state the wheel's bristle, load,
    slip, tangential force, contact and daylight.
    """
    state = states[0]
    force[:] = 0.0
    moment[:] = 0.0
    foot[:] = 0.0
    case, radius = cases[0], cases[0].radius[i]
    first, past = met_features(c, a, radius, case.section[i], ground)
    if past > 0 or ground.relief.size > 0:
        local = Ground(ground.features[first:past], ground.relief, ground.place)
        load, deep = press(i, cases, local, c, a, v, w, softness, force, moment, foot)
    else:
        load, deep = press_flat(i, cases, c, a, v, w, softness, force, moment, foot)
    state.load[i] = load
    if load == 0.0:
        state.bristle[i, 0] = 0.0
        state.bristle[i, 1] = 0.0
        state.slip[i] = 0.0
        state.tangential[i, 0] = 0.0
        state.tangential[i, 1] = 0.0
        state.gap[i] = max(-deep, 0.0)
        hang(i, cases, states, c, a)
        return
    state.gap[i] = 0.0
    px, py, pz = foot[0], foot[1], foot[2]
    size = 1.0 / sqrt(force[0] * force[0] + force[1] * force[1] + force[2] * force[2])
    ux, uy, uz = force[0] * size, force[1] * size, force[2] * size
    # tangent frame: forward = axle x normal, left = normal x forward
    tx, ty, tz = a[1] * uz - a[2] * uy, a[2] * ux - a[0] * uz, a[0] * uy - a[1] * ux
    size = 1.0 / sqrt(tx * tx + ty * ty + tz * tz)
    tx, ty, tz = tx * size, ty * size, tz * size
    lx, ly, lz = uy * tz - uz * ty, uz * tx - ux * tz, ux * ty - uy * tx
    went_long, went_side = patch_velocity(
        moved, turned, spun, a, px, py, pz, tx, ty, tz, lx, ly, lz
    )
    v_long, v_side = patch_velocity(v, w, spin, a, px, py, pz, tx, ty, tz, lx, ly, lz)
    f_long, f_side, behind = bristle(
        i, cases, states, load, went_long, went_side, v_long, v_side, spun, softness
    )
    gx, gy, gz = f_long * tx + f_side * lx, f_long * ty + f_side * ly, f_long * tz + f_side * lz
    add_push(px, py, pz, gx, gy, gz, force, moment)
    # the whole force acts at the patch that the rim has left behind
    hx, hy, hz = -behind * lx, -behind * ly, -behind * lz
    moment[0] += hy * force[2] - hz * force[1]
    moment[1] += hz * force[0] - hx * force[2]
    moment[2] += hx * force[1] - hy * force[0]
    place = state.contact[i]
    place[0], place[1], place[2] = c[0] + px + hx, c[1] + py + hy, c[2] + pz + hz
