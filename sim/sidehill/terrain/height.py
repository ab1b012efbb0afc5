"""Height of the ground and its gradient, from an array of features.

Heights of features that overlap add up. A feature is one row of COLUMNS numbers.
"""

from math import cos, pi, sin, sqrt

from sidehill.jit import kernel
from sidehill.layout import Vector

SHAPE, X, Y, COS, SIN, HALF_LENGTH, HALF_WIDTH, FLANK, HEIGHT = range(9)
COLUMNS = 9
HUMP, LOG = 0, 1  # profiles along the feature: cos^2, and a round of its own height


@kernel
def profile(shape: float, u: float, half: float, height: float) -> tuple[float, float]:
    """Height [m] and slope of a profile at `u` [m] from its middle, |u| < half."""
    if shape == HUMP:
        turn = 0.5 * pi * u / half
        return height * cos(turn) ** 2, -0.5 * pi / half * height * sin(2.0 * turn)
    rise = sqrt(half * half - u * u)
    return half + rise, -u / rise


@kernel
def window(v: float, half: float, flank: float) -> tuple[float, float]:
    """Share of the height and its slope at `v` [m] across a feature: flat, smooth flanks."""
    inside = half - abs(v)
    if inside >= flank:
        return 1.0, 0.0
    s = inside / flank
    share = s * s * (3.0 - 2.0 * s)
    slope = 6.0 * s * (1.0 - s) / flank
    return share, -slope if v > 0.0 else slope


@kernel
def height(x: float, y: float, features: Vector) -> float:
    """[m] height of the ground at (x, y) [m]."""
    total = 0.0
    for i in range(features.shape[0]):
        dx, dy = x - features[i, X], y - features[i, Y]
        u = features[i, COS] * dx + features[i, SIN] * dy
        v = features[i, COS] * dy - features[i, SIN] * dx
        if abs(u) < features[i, HALF_LENGTH] and abs(v) < features[i, HALF_WIDTH]:
            along, _ = profile(features[i, SHAPE], u, features[i, HALF_LENGTH], features[i, HEIGHT])
            share, _ = window(v, features[i, HALF_WIDTH], features[i, FLANK])
            total += along * share
    return total


@kernel
def gradient(x: float, y: float, features: Vector) -> tuple[float, float]:
    """(dh/dx, dh/dy) of the ground at (x, y) [m]."""
    gx = 0.0
    gy = 0.0
    for i in range(features.shape[0]):
        dx, dy = x - features[i, X], y - features[i, Y]
        u = features[i, COS] * dx + features[i, SIN] * dy
        v = features[i, COS] * dy - features[i, SIN] * dx
        if abs(u) < features[i, HALF_LENGTH] and abs(v) < features[i, HALF_WIDTH]:
            along, slope = profile(
                features[i, SHAPE], u, features[i, HALF_LENGTH], features[i, HEIGHT]
            )
            share, fade = window(v, features[i, HALF_WIDTH], features[i, FLANK])
            du, dv = slope * share, along * fade
            gx += features[i, COS] * du - features[i, SIN] * dv
            gy += features[i, SIN] * du + features[i, COS] * dv
    return gx, gy


@kernel
def is_flat(x: float, y: float, reach: float, features: Vector) -> bool:
    """Whether no feature lies within `reach` [m] of (x, y)."""
    for i in range(features.shape[0]):
        dx, dy = x - features[i, X], y - features[i, Y]
        u = abs(features[i, COS] * dx + features[i, SIN] * dy)
        v = abs(features[i, COS] * dy - features[i, SIN] * dx)
        if u < features[i, HALF_LENGTH] + reach and v < features[i, HALF_WIDTH] + reach:
            return False
    return True
