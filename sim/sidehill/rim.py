"""Where on its rim a thin disc stands deepest in the ground."""

from math import sqrt

from sidehill.jit import kernel
from sidehill.terrain.height import Ground, height, relief_surface

REFINEMENTS = 9  # parabolas after the scan, at most
CLOSE = 1e-5  # a last parabola that moves the point by less is not looked at: it is far closer
TURNS, NEAR = 8, 1e-5  # of the fixed point on rough ground, at most; tangent


@kernel
def rim_point(turn: float, radius: float) -> tuple[float, float]:
    """[m] down and forward from the centre to the rim point at `turn`, the tangent of half
    its angle from straight down: a circle without sine or cosine."""
    share = radius / (1.0 + turn * turn)
    return (1.0 - turn * turn) * share, 2.0 * turn * share


@kernel
def rim_gap(
    turn: float, cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float,
    dz: float, radius: float, ground: Ground,
) -> float:  # fmt: skip
    """[m] how far the rim point at `turn` lies below the ground."""
    c, s = rim_point(turn, radius)
    return height(cx + c * dx + s * ex, cy + c * dy + s * ey, ground) - (cz + c * dz)


@kernel
def scan(
    cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float, dz: float,
    radius: float, pitch: float, most: float, ground: Ground,
) -> tuple[float, float, float, float]:  # fmt: skip
    """The deepest of a row of rim points `pitch` apart, and how deep it and its neighbours are.

    Arguments as in `deepest`. Gives its `turn`, and the gaps [m] before, there and after.
    """
    side = min(int(most / pitch) + 1, int(1.0 / pitch))
    best, top = 0, -1e9
    last = before = after = -1e9
    for ray in range(-side, side + 1):
        gap = rim_gap(ray * pitch, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
        if gap > top:
            best, top, before = ray, gap, last
        elif ray == best + 1:
            after = gap
        last = gap
    m = best * pitch
    if best == -side:
        before = rim_gap(m - pitch, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
    if best == side:
        after = rim_gap(m + pitch, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
    return m, before, top, after


@kernel
def deepest(
    cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float, dz: float,
    radius: float, pitch: float, most: float, ground: Ground,
) -> float:  # fmt: skip
    """The `turn` of the rim point deepest in the ground: a scan of the lower rim, then parabolas.

    c: centre of the disc [m]; e: forward and d: downward unit vectors in its plane;
    pitch: between two points of the scan; most: beyond it the rim is clear of the ground.
    """
    m, fa, fm, fb = scan(cx, cy, cz, ex, ey, dx, dy, dz, radius, pitch, most, ground)
    a, b = m - pitch, m + pitch
    for _ in range(REFINEMENTS):
        left, right = (m - a) * (fm - fb), (m - b) * (fm - fa)
        below = left - right
        if below == 0.0:
            break
        t = m - 0.5 * ((m - a) * left - (m - b) * right) / below
        if not a < t < b:
            break
        if abs(t - m) < CLOSE:
            return t
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
) -> tuple[float, float, float, float]:  # fmt: skip
    """Tangent of the deepest rim point's angle from straight down, away from features, and
    height [m] and gradient of the ground there.

    Roughness bends far less than a rim, so the point is unique and a fixed point of
    "the rim is parallel to the ground"; m: where to begin; the rest as in `deepest`.
    """
    before, left, bent = m, 0.0, 0.0
    high = gx = gy = 0.0
    for turn in range(TURNS):
        c = radius / sqrt(1.0 + m * m)
        s = m * c
        high, gx, gy = relief_surface(cx + c * dx + s * ex, cy + c * dy + s * ey, ground)
        error = (gx * ex + gy * ey) / (gx * dx + gy * dy - dz) - m
        if abs(error) < NEAR:
            break
        if turn > 0:  # how much less the error has become for the way gone: a secant
            bent = min(max((error - left) / (m - before), -2.0), -0.5)
        before, left = m, error
        m -= error / bent if turn > 0 else -error
    return m, high, gx, gy
