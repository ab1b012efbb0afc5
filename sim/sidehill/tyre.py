"""The tyre law: ground and motion of one wheel -> force and torque about its centre.

A wheel is a row of thin discs across its section. Each presses on the ground with a
spring and damper at its deepest rim point; together they make the load and its place.
One bristle per wheel carries the tangential force, up to the friction limit. The force
acts where the bristle was left behind, since the rim moves sideways off its own patch.
The engines and the compliant statics call this same code.
"""

from math import cos, pi, sin, sqrt

from sidehill.jit import kernel
from sidehill.layout import SETTLE, Records, Vector
from sidehill.terrain.height import Ground, gradient, height, is_near_feature

SECTION_SHARE = 0.9  # of the section width that the discs span
REFINEMENTS = 9  # parabolas after the scan, at most
CLOSE = 1e-7  # [rad] to which they find the deepest point; its depth is far closer
TURNS, NEAR = 8, 1e-5  # of the fixed point on rough ground, at most; tangent
SHEAR_DAMPING = 0.5  # tangential over vertical damping
HELD = 1.5  # friction while settling: a machine is held at its start, however slippery


@kernel
def rim_gap(
    turn: float, cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float,
    dz: float, radius: float, ground: Ground,
) -> float:  # fmt: skip
    """[m] how far the rim point at `turn` [rad] from straight down lies below the ground."""
    c, s = radius * cos(turn), radius * sin(turn)
    return height(cx + c * dx + s * ex, cy + c * dy + s * ey, ground) - (cz + c * dz)


@kernel
def deepest(
    cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float, dz: float,
    radius: float, rays: int, ground: Ground,
) -> float:  # fmt: skip
    """[rad] the rim point deepest in the ground: a scan of the lower rim, then parabolas.

    c: centre of the disc [m]; e: forward and d: downward unit vectors in its plane.
    """
    pitch = pi / (rays - 1)
    best, top = 0, -1e9
    for ray in range(rays):
        gap = rim_gap(-0.5 * pi + ray * pitch, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
        if gap > top:
            best, top = ray, gap
    m = -0.5 * pi + best * pitch
    a, b = m - pitch, m + pitch
    fa = rim_gap(a, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
    fb = rim_gap(b, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
    fm = top
    for _ in range(REFINEMENTS):
        left, right = (m - a) * (fm - fb), (m - b) * (fm - fa)
        below = left - right
        if below == 0.0:
            break
        t = m - 0.5 * ((m - a) * left - (m - b) * right) / below
        if not a < t < b or abs(t - m) < CLOSE:
            break
        ft = rim_gap(t, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
        if ft > fm:
            if t > m:
                a, fa = m, fm
            else:
                b, fb = m, fm
            m, fm = t, ft
        elif t > m:
            b, fb = t, ft
        else:
            a, fa = t, ft
    return m


@kernel
def deepest_on_relief(
    m: float, cx: float, cy: float, ex: float, ey: float, dx: float, dy: float, dz: float,
    radius: float, ground: Ground,
) -> float:  # fmt: skip
    """Tangent of the deepest rim point's angle from straight down, away from features.

    Roughness bends far less than a rim, so the point is unique and a fixed point of
    "the rim is parallel to the ground"; m: where to begin; the rest as in `deepest`.
    """
    for _ in range(TURNS):
        c = radius / sqrt(1.0 + m * m)
        s = m * c
        gx, gy = gradient(cx + c * dx + s * ex, cy + c * dy + s * ey, ground)
        before, m = m, (gx * ex + gy * ey) / (gx * dx + gy * dy - dz)
        if abs(m - before) < NEAR:
            break
    return m


@kernel
def wheel(
    i: int, cases: Records, states: Records, ground: Ground,
    c: Vector, a: Vector, moved: Vector, turned: Vector, spun: float,
    v: Vector, w: Vector, spin: float, softness: float, force: Vector, moment: Vector,
) -> None:  # fmt: skip
    """Force [N] on wheel `i` and moment [N m] about its centre, and its new bristle.

    c: centre [m]; a: axle unit vector, to the left. moved, turned, spun: velocity [m/s],
    angular velocity without the spin and spin [rad/s] over the last step, which stretch
    the bristle; v, w, spin: the same now, for the dampers. softness: factor on the
    damping. Writes `force`, `moment` (3,), the state's bristle, load and slip.
    """
    case, state = cases[0], states[0]
    radius, section = case.radius[i], SECTION_SHARE * case.section[i]
    discs = int(case.discs)
    k, damp = case.stiffness[i] / discs, softness * case.damping[i] / discs
    level = sqrt(1.0 - a[2] * a[2])
    ex, ey = a[1] / level, -a[0] / level  # forward, in the disc's plane and horizontal
    dx, dy, dz = a[0] * a[2] / level, a[1] * a[2] / level, -level
    near = is_near_feature(c[0], c[1], radius + 0.5 * case.section[i], ground.features)
    flat = not near and ground.relief.size == 0
    rays = int(case.rays)
    load = m = 0.0
    nx = ny = nz = px = py = pz = 0.0
    force[:] = 0.0
    moment[:] = 0.0
    for disc in range(discs):
        across = section * ((disc + 0.5) / discs - 0.5)
        ox, oy, oz = across * a[0], across * a[1], across * a[2]
        ux = uy = 0.0
        uz = 1.0
        depth = radius * level - c[2] - oz
        co, si = radius, 0.0
        if near:
            turn = deepest(
                c[0] + ox, c[1] + oy, c[2] + oz, ex, ey, dx, dy, dz, radius, rays, ground
            )
            co, si = radius * cos(turn), radius * sin(turn)
        elif not flat:
            m = deepest_on_relief(m, c[0] + ox, c[1] + oy, ex, ey, dx, dy, dz, radius, ground)
            co = radius / sqrt(1.0 + m * m)
            si = m * co
        rx, ry, rz = ox + co * dx + si * ex, oy + co * dy + si * ey, oz + co * dz
        if not flat:
            gx, gy = gradient(c[0] + rx, c[1] + ry, ground)
            uz = 1.0 / sqrt(1.0 + gx * gx + gy * gy)
            ux, uy = -gx * uz, -gy * uz
            depth = (height(c[0] + rx, c[1] + ry, ground) - c[2] - rz) * uz
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
        fx, fy, fz = push * ux, push * uy, push * uz
        nx, ny, nz = nx + fx, ny + fy, nz + fz
        px, py, pz = px + push * rx, py + push * ry, pz + push * rz
        moment[0] += ry * fz - rz * fy
        moment[1] += rz * fx - rx * fz
        moment[2] += rx * fy - ry * fx
    state.load[i] = load
    if load == 0.0:
        state.bristle[i, 0] = 0.0
        state.bristle[i, 1] = 0.0
        state.slip[i] = 0.0
        return
    size = sqrt(nx * nx + ny * ny + nz * nz)
    ux, uy, uz = nx / size, ny / size, nz / size
    px, py, pz = px / load, py / load, pz / load
    # tangent frame: forward = axle x normal, left = normal x forward
    tx, ty, tz = a[1] * uz - a[2] * uy, a[2] * ux - a[0] * uz, a[0] * uy - a[1] * ux
    size = sqrt(tx * tx + ty * ty + tz * tz)
    tx, ty, tz = tx / size, ty / size, tz / size
    lx, ly, lz = uy * tz - uz * ty, uz * tx - ux * tz, ux * ty - uy * tx
    went_long, went_side = patch_velocity(
        moved, turned, spun, a, px, py, pz, tx, ty, tz, lx, ly, lz
    )
    v_long, v_side = patch_velocity(v, w, spin, a, px, py, pz, tx, ty, tz, lx, ly, lz)
    f_long, f_side, left_behind = bristle(
        i, cases, states, load, went_long, went_side, v_long, v_side, spun, softness
    )
    gx, gy, gz = f_long * tx + f_side * lx, f_long * ty + f_side * ly, f_long * tz + f_side * lz
    moment[0] += py * gz - pz * gy
    moment[1] += pz * gx - px * gz
    moment[2] += px * gy - py * gx
    force[0], force[1], force[2] = nx + gx, ny + gy, nz + gz
    hx, hy, hz = -left_behind * lx, -left_behind * ly, -left_behind * lz
    moment[0] += hy * force[2] - hz * force[1]
    moment[1] += hz * force[0] - hx * force[2]
    moment[2] += hx * force[1] - hy * force[0]


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
def bristle(
    i: int, cases: Records, states: Records, load: float, went_long: float, went_side: float,
    v_long: float, v_side: float, spun: float, softness: float,
) -> tuple[float, float, float]:  # fmt: skip
    """Tangential force [N], forward and left, and the lateral deflection [m] of wheel `i`.

    The bristle follows the patch (`went_*`, [m/s] over the last step; `v_*` now, for its
    damper) and forgets it over the relaxation length as the tyre rolls; beyond the
    friction limit it slides at the limit. `softness` is for the lateral damper alone: a
    light wheel's spin would not bear more.
    """
    case, state = cases[0], states[0]
    dt, k = case.step, case.shear[i]
    damp = SHEAR_DAMPING * case.damping[i]
    fade = abs(spun) * case.radius[i] / case.relaxation  # [1/s]
    forget = 1.0 + 0.5 * fade * dt
    keep = 1.0 - 0.5 * fade * dt
    s_long = (keep * state.bristle[i, 0] + went_long * dt) / forget
    s_side = (keep * state.bristle[i, 1] + went_side * dt) / forget
    grip = max(case.friction, HELD) if state.stage == SETTLE else case.friction
    most = grip * load
    stretch = k * sqrt(s_long * s_long + s_side * s_side)
    if stretch >= most:  # it slides: the bristle stays at the limit, its damper at rest
        s_long, s_side = s_long * most / stretch, s_side * most / stretch
        f_long, f_side = -k * s_long, -k * s_side
        state.slip[i] = 1.0
    else:
        f_long = -k * s_long - damp * (v_long - fade * s_long)
        f_side = -k * s_side - softness * damp * (v_side - fade * s_side)
        size = sqrt(f_long * f_long + f_side * f_side)
        state.slip[i] = stretch / most
        if size > most:
            f_long, f_side = f_long * most / size, f_side * most / size
    state.bristle[i, 0], state.bristle[i, 1] = s_long, s_side
    return f_long, f_side, s_side
