"""Where on its rim a thin disc stands deepest in the ground."""

from math import cos, pi, sin, sqrt

from sidehill.jit import kernel
from sidehill.terrain.height import Ground, gradient, height

REFINEMENTS = 9  # parabolas after the scan, at most
CLOSE = 1e-7  # [rad] to which they find the deepest point; its depth is far closer
TURNS, NEAR = 8, 1e-5  # of the fixed point on rough ground, at most; tangent


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
