"""How a disc that envelops the ground stands on it: by the area that the ground takes of it.

The radial spokes of such a tyre push together with the area by which the ground cuts into the
disc, from the middle of that area. So the disc stands as on the plane that cuts off as much
there; on a plane, however steep, that is the plane itself. Radial springs and equivalent plane:
after Davis 1975, Vehicle System Dynamics 4, 55-69 (from memory).
"""

from math import atan2, cos, pi, sin, sqrt

from sidehill.kernels.height import Ground, relief_height, surface
from sidehill.kernels.jit import kernel
from sidehill.kernels.rim import deepest_on_relief, rim_point

TURNS, CLOSE = 12, 1e-13  # of Newton's method, at most; [rad] when it stops
NODE, SHARE = 0.7745966692414834, 5.0 / 9.0  # outer ones of Gauss's three points on (-1, 1)
LEAST, MOST = 0.05, 40.0  # of the rim's own: how far a gap bends between two columns
STEEPEST = 0.2  # of a disc's height over a gap's, at least, on ground that leans as it does


@kernel
def segment(depth: float, radius: float) -> tuple[float, float]:
    """[m^2] of a disc beyond a chord `depth` [m] inside its rim, and [m^3] of its first moment
    about the centre."""
    if depth <= 0.0:
        return 0.0, 0.0
    c = max(1.0 - depth / radius, -1.0)
    s = sqrt(1.0 - c * c)
    return radius * radius * (atan2(s, c) - s * c), 2.0 / 3.0 * (radius * s) ** 3


@kernel
def segment_depth(area: float, radius: float) -> float:
    """[m] inside the rim of the chord that cuts off `area` [m^2], up to half of the disc."""
    if area <= 0.0:
        return 0.0
    share = min(area / (radius * radius), 0.5 * pi)
    turn = (1.5 * share) ** (1.0 / 3.0)
    turn *= 1.0 + turn * turn / 15.0
    for _ in range(TURNS):
        s, c = sin(turn), cos(turn)
        step = (turn - s * c - share) / (2.0 * s * s)
        turn -= step
        if abs(step) < CLOSE:
            break
    return radius * (1.0 - cos(turn))


@kernel
def column(
    a: float, b: float, rise: float, fall: float, sa: float, sb: float, ca: float, cb: float,
    radius: float,
) -> tuple[float, float, float]:  # fmt: skip
    """[m^2] of ground between two spots of the rim, and [m^3] of its first moments, ahead and
    down; the gap between them is a parabola.

    a, b: gaps [m] up to the ground, negative where it is below; rise, fall: their slopes by the
    way ahead; s, c: [m] ahead and down.
    """
    width = sb - sa
    bend = min(max((rise - fall) / width, LEAST / radius), MOST / radius)
    slope = (b - a) / width + 0.5 * bend * width
    start, end = 0.0, width
    if a <= 0.0 or b <= 0.0:
        root = slope * slope + 2.0 * bend * a
        if root <= 0.0:
            return 0.0, 0.0, 0.0
        root = sqrt(root)
        start = max(start, (slope - root) / bend)
        end = min(end, (slope + root) / bend)
        if end <= start:
            return 0.0, 0.0, 0.0
    middle, long = 0.5 * (start + end), end - start
    mean = a + middle * (slope - 0.5 * bend * middle) - bend * long * long / 24.0
    area, share = mean * long, middle / width
    return area, area * (sa + share * (sb - sa)), area * (ca + share * (cb - ca) - 0.5 * mean)


@kernel
def stood_on(
    area: float, ahead: float, down: float, across: float, cx: float, cy: float, cz: float,
    ex: float, ey: float, dx: float, dy: float, dz: float, radius: float,
) -> tuple[float, float, float, float]:  # fmt: skip
    """The plane that takes `area` [m^2] of a disc, with its middle in the direction of the
    moments `ahead` and `down`: tangent of that direction from straight down, and height [m]
    and gradient of the plane over the rim there.

    across: the plane's slope along the axle; the rest as in `enveloped`.
    """
    m = ahead / max(down, 1e-3 * (abs(ahead) + abs(down)))
    c = radius / sqrt(1.0 + m * m)
    fall = max(across * (dy * ex - dx * ey) - dz, STEEPEST * -dz)
    depth = segment_depth(area, radius) * radius / c * fall
    along = m * fall
    return m, cz + c * dz + depth, along * ex - across * ey, along * ey + across * ex


@kernel
def enveloped(
    cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float, dz: float,
    radius: float, pitch: float, most: float, ground: Ground,
) -> tuple[float, float, float, float]:  # fmt: skip
    """The plane that a disc stands on where features are, as in `stood_on`.

    The area that the plane z = 0 takes is known in closed form; what features add to it or
    take from it is summed over columns. Arguments as in `rim.deepest`.
    """
    side = min(int(most / pitch) + 1, int(1.0 / pitch))
    area, down = segment(radius + cz / dz, radius)
    plain, ahead, across, tilt = area, 0.0, 0.0, dy * ex - dx * ey
    gap = bare = rise = bare_rise = s = c = 0.0
    rough = False
    for ray in range(-side, side + 1):
        gap_was, bare_was, rise_was, bare_rise_was = gap, bare, rise, bare_rise
        s_was, c_was, rough_was = s, c, rough
        c, s = rim_point(ray * pitch, radius)
        high, gx, gy = surface(cx + c * dx + s * ex, cy + c * dy + s * ey, ground)
        aside, steep = gy * ex - gx * ey, s / max(c, 1e-3 * radius)
        fall = max(aside * tilt - dz, STEEPEST * -dz)
        gap = (high - (cz + c * dz)) / fall
        rise = (gx * ex + gy * ey) / fall - steep
        bare, bare_rise = c + cz / dz, -steep
        rough = high != 0.0
        if ray == -side or not (rough or rough_was):
            continue
        part, part_ahead, part_down = column(
            gap_was, gap, rise_was, rise, s_was, s, c_was, c, radius
        )
        left, left_ahead, left_down = column(
            bare_was, bare, bare_rise_was, bare_rise, s_was, s, c_was, c, radius
        )
        upright = 1.0 / sqrt(1.0 + gx * gx + gy * gy)
        area += part - left
        ahead += part_ahead - left_ahead
        down += part_down - left_down
        plain += part * upright - left
        across += part * upright * aside
    if area <= 0.0:
        return 0.0, -1e9, 0.0, 0.0
    across = across / plain if plain > 0.0 else 0.0
    return stood_on(area, ahead, down, across, cx, cy, cz, ex, ey, dx, dy, dz, radius)


@kernel
def enveloped_relief(
    m: float, cx: float, cy: float, cz: float, ex: float, ey: float, dx: float, dy: float,
    dz: float, radius: float, ground: Ground,
) -> tuple[float, float, float, float]:  # fmt: skip
    """The plane that a disc stands on away from features, as in `stood_on`.

    What the relief adds to the area that its own tangent plane takes, by Gauss's three points
    along the chord; the middle one adds nothing. Arguments as in `rim.deepest_on_relief`.
    """
    m, high, gx, gy = deepest_on_relief(m, cx, cy, ex, ey, dx, dy, dz, radius, ground)
    c = 1.0 / sqrt(1.0 + m * m)
    s, across = m * c, gy * ex - gx * ey
    fall = max(across * (dy * ex - dx * ey) - dz, STEEPEST * -dz)
    depth = (high - (cz + radius * c * dz)) * c / fall
    if depth <= 0.0:
        return m, high, gx, gy
    area, moment = segment(depth, radius)
    half = sqrt(depth * max(2.0 * radius - depth, 0.0))
    more = turned = 0.0
    for side in range(-1, 2, 2):
        along, inside = side * NODE * half, radius - depth
        down, ahead = inside * c - along * s, inside * s + along * c
        x, y = cx + down * dx + ahead * ex, cy + down * dy + ahead * ey
        rise = (relief_height(x, y, ground) - (cz + down * dz)) * c / fall
        more += SHARE * half * rise
        turned += SHARE * half * rise * along
    return stood_on(
        area + more, moment * s + turned * c, moment * c - turned * s, across,
        cx, cy, cz, ex, ey, dx, dy, dz, radius,
    )  # fmt: skip
