"""Where on its rim a thin disc stands deepest in the ground."""

from math import sqrt

from sidehill.kernels.height import Ground, height, relief_surface, surface
from sidehill.kernels.jit import kernel

LOOKS, SURE = 40, 4  # after the scan, at most; after which every other one halves
CLOSE, FLAT = 1e-6, 1e-5  # when to stop: in `turn`; of the gap's growth by `turn` over the radius
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
def rim_slope(
    turn: float, cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float,
    dz: float, radius: float, ground: Ground,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """`rim_gap` [m], its derivative by `turn` [m], and height [m] and gradient of the ground."""
    c, s = rim_point(turn, radius)
    high, gx, gy = surface(cx + c * dx + s * ex, cy + c * dy + s * ey, ground)
    slope = gx * (c * ex - s * dx) + gy * (c * ey - s * dy) + s * dz
    return high - (cz + c * dz), 2.0 / (1.0 + turn * turn) * slope, high, gx, gy


@kernel
def climb(
    m: float, fa: float, fm: float, fb: float, guess: float, cx: float, cy: float, cz: float,
    ex: float, ey: float, dx: float, dy: float, dz: float, radius: float, pitch: float,
    ground: Ground,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """From a point of the scan that is deeper than its neighbours to where the gap is largest.

    m: its `turn`; fa, fm, fb: gaps [m] before, there and after; guess: where to look first,
    if it lies between them; the rest as in `deepest`.
    Secants of the gap's slope, between two points that lie before the deepest and past it;
    halfway between them where a secant would leave, and now and then besides, for the sake of
    sharp edges. Gives the gap [m], its `turn`, and height [m] and gradient of the ground there.
    """
    a, b = m - pitch, m + pitch
    bend = (fa - 2.0 * fm + fb) / (pitch * pitch)
    turn = guess if a < guess < b else m - 0.5 * (fb - fa) / (pitch * bend)
    last = rise = high = gx = gy = 0.0
    steep, known = 1.0, False  # slope at `m` [m]
    for look in range(LOOKS):
        gap, slope, h, hx, hy = rim_slope(turn, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
        if look > 0:
            bend = (slope - rise) / (turn - last)
        last, rise = turn, slope
        best = gap >= fm or turn == m
        if slope > 0.0 if best else turn < m:
            a = turn
        else:
            b = turn
        if best:
            m, fm, steep, high, gx, gy, known = turn, gap, slope, h, hx, hy, True
        if known and (abs(steep) < FLAT * radius or b - a < CLOSE):
            break
        turn = m
        if known:
            turn = m - steep / bend if bend < 0.0 else a
            if not a < turn < b or (look > SURE and look % 2 == 0):
                turn = 0.5 * (a + b)
    return fm, m, high, gx, gy


@kernel
def deepest(
    m: float, cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float,
    dz: float, radius: float, pitch: float, most: float, ground: Ground,
) -> tuple[float, float, float, float]:  # fmt: skip
    """The `turn` of the rim point deepest in the ground, and height [m] and gradient there.

    A scan of the lower rim; each of its humps is climbed: the deepest may be a sharp edge, on
    whose flank alone a point of the scan stands. If none is found, the rim is in the air, and
    the ground straight below is given.
    m: tangent of a direction near which the deepest point may lie, as it did for the disc beside;
    c: centre of the disc [m]; e: forward and d: downward unit vectors in its plane;
    pitch: between two points of the scan; most: beyond it the rim is clear of the ground.
    """
    side = min(int(most / pitch) + 1, int(1.0 / pitch))
    top, turn, high, gx, gy = -1e9, 0.0, -1e9, 0.0, 0.0
    guess = m / (1.0 + sqrt(1.0 + m * m))
    before, after = -1e9 * radius, 0.0  # by the radius: the same at any size
    here = rim_gap(-side * pitch, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
    for ray in range(-side, side + 1):
        after = rim_gap((ray + 1) * pitch, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
        if before < here >= after:
            gap, t, h, hx, hy = climb(
                ray * pitch, before, here, after, guess, cx, cy, cz, ex, ey, dx, dy, dz, radius,
                pitch, ground,
            )  # fmt: skip
            if gap > top:
                top, turn, high, gx, gy = gap, t, h, hx, hy
        before, here = here, after
    if top < -1e8:  # in the air: what lies straight below
        high, gx, gy = surface(cx + radius * dx, cy + radius * dy, ground)
    return turn, high, gx, gy


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
