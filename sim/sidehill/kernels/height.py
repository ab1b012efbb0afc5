"""Height of the ground and its gradient: an array of features, and a relief of roughness.

Heights of features that overlap add up. A feature is one row of COLUMNS numbers; the
relief is a grid of cubic B-spline coefficients.
"""

from math import floor, sqrt
from typing import NamedTuple

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import Vector

SHAPE, X, Y, COS, SIN, HALF_LENGTH, HALF_WIDTH, FLANK, HEIGHT = range(9)
COLUMNS = 9
HUMP, HALF_ELLIPSE, FLAT_TOP = 0, 1, 2  # profiles along the feature; a hump is a cos^2
PROFILES = {"hump": HUMP, "half ellipse": HALF_ELLIPSE, "flat top": FLAT_TOP}


class Ground(NamedTuple):
    """What the ground is, as arrays."""

    features: Vector  # (n, COLUMNS) in the order of their x
    relief: Vector  # (rows along y, columns along x) [m] spline coefficients; empty: smooth
    place: Vector  # (3,) [m], [m], [1/m] x and y of the first coefficient, 1 / spacing


@kernel
def window(v: float, half: float, flank: float) -> tuple[float, float]:
    """Share of the height and its slope at `v` [m] from the middle: flat, smooth flanks."""
    inside = half - abs(v)
    if inside >= flank:
        return 1.0, 0.0
    s = inside / flank
    share = s * s * (3.0 - 2.0 * s)
    slope = 6.0 * s * (1.0 - s) / flank
    return share, -slope if v > 0.0 else slope


@kernel
def cos_squared(w: float) -> tuple[float, float]:
    """cos^2(pi w / 2) and its derivative by `w`, |w| < 1.

    cos(pi w / 2) is (1 - w^2) times a series in w^2, here fitted to 2e-17 (Chebyshev): exactly
    zero at both ends, and without a call, which took half the time of a wheel on a hump.
    """
    s = w * w
    most = 1.0 - s
    low = 0.9999999999999999844 + s * (-0.2337005501361678252 + s * 0.01996895776483613097)
    high = -0.000894522998138162026 + s * (
        0.00002473727504112640149
        + s
        * (-4.647631809353900614e-7 + s * (6.318119670622831761e-9 - s * 6.306169561656850525e-11))
    )
    series = low + s * s * s * high
    grow = -0.2337005501361678252 + s * (
        0.03993791552967226194
        + s
        * (
            -0.002683568994414486078
            + s
            * (
                0.00009894910016450560596
                + s
                * (
                    -2.323815904676950307e-6
                    + s * (3.790871802373699057e-8 - s * 4.414318693159795368e-10)
                )
            )
        )
    )
    wave = most * series
    return wave * wave, 4.0 * w * wave * (most * grow - series)


@kernel
def profile(
    shape: float, u: float, half: float, flank: float, height: float
) -> tuple[float, float]:
    """Height [m] and slope of a profile at `u` [m] from its middle, |u| < half."""
    if shape == HUMP:
        share, slope = cos_squared(u / half)
        return height * share, height * slope / half
    if shape == FLAT_TOP:
        share, slope = window(u, half, flank)
        return height * share, height * slope
    rise = sqrt(1.0 - (u / half) ** 2)
    return height * rise, -height * u / (half * half * rise)


@kernel
def features_height(x: float, y: float, features: Vector) -> float:
    """[m] height of the features at (x, y) [m]."""
    total = 0.0
    for i in range(features.shape[0]):
        dx, dy = x - features[i, X], y - features[i, Y]
        u = features[i, COS] * dx + features[i, SIN] * dy
        v = features[i, COS] * dy - features[i, SIN] * dx
        half, flank = features[i, HALF_LENGTH], features[i, FLANK]
        if abs(u) < half and abs(v) < features[i, HALF_WIDTH]:
            along, _ = profile(features[i, SHAPE], u, half, flank, features[i, HEIGHT])
            share, _ = window(v, features[i, HALF_WIDTH], flank)
            total += along * share
    return total


@kernel
def features_surface(x: float, y: float, features: Vector) -> tuple[float, float, float]:
    """Height [m] and (dh/dx, dh/dy) of the features at (x, y) [m]."""
    total = gx = gy = 0.0
    for i in range(features.shape[0]):
        dx, dy = x - features[i, X], y - features[i, Y]
        u = features[i, COS] * dx + features[i, SIN] * dy
        v = features[i, COS] * dy - features[i, SIN] * dx
        half, flank = features[i, HALF_LENGTH], features[i, FLANK]
        if abs(u) < half and abs(v) < features[i, HALF_WIDTH]:
            along, slope = profile(features[i, SHAPE], u, half, flank, features[i, HEIGHT])
            share, fade = window(v, features[i, HALF_WIDTH], flank)
            du, dv = slope * share, along * fade
            total += along * share
            gx += features[i, COS] * du - features[i, SIN] * dv
            gy += features[i, SIN] * du + features[i, COS] * dv
    return total, gx, gy


@kernel
def spline(t: float) -> tuple[float, float, float, float]:
    """Cubic B-spline weights of four neighbours at the share `t` of a spacing."""
    s = 1.0 - t
    return (
        s * s * s / 6.0,
        (4.0 - 6.0 * t * t + 3.0 * t * t * t) / 6.0,
        (4.0 - 6.0 * s * s + 3.0 * s * s * s) / 6.0,
        t * t * t / 6.0,
    )


@kernel
def spline_slope(t: float) -> tuple[float, float, float, float]:
    """Derivatives of the weights, per spacing."""
    s = 1.0 - t
    return -0.5 * s * s, -2.0 * t + 1.5 * t * t, 2.0 * s - 1.5 * s * s, 0.5 * t * t


@kernel
def relief_surface(x: float, y: float, ground: Ground) -> tuple[float, float, float]:
    """Height [m] and (dh/dx, dh/dy) of the relief at (x, y) [m]; flat beyond its edge."""
    relief, fine = ground.relief, ground.place[2]
    u, v = (x - ground.place[0]) * fine, (y - ground.place[1]) * fine
    column, row = floor(u), floor(v)
    wx, sx = spline(u - column), spline_slope(u - column)
    wy, sy = spline(v - row), spline_slope(v - row)
    column, row = column - 1, row - 1
    total = gx = gy = 0.0
    if column < 0 or row < 0 or column + 3 >= relief.shape[1] or row + 3 >= relief.shape[0]:
        return total, gx, gy
    for j in range(4):
        along = slope = 0.0
        for i in range(4):
            along += wx[i] * relief[row + j, column + i]
            slope += sx[i] * relief[row + j, column + i]
        total += wy[j] * along
        gx += wy[j] * slope
        gy += sy[j] * along
    return total, fine * gx, fine * gy


@kernel
def relief_height(x: float, y: float, ground: Ground) -> float:
    """[m] height of the relief at (x, y) [m]; flat beyond its edge."""
    relief = ground.relief
    u, v = (x - ground.place[0]) * ground.place[2], (y - ground.place[1]) * ground.place[2]
    column, row = floor(u), floor(v)
    wx, wy = spline(u - column), spline(v - row)
    column, row = column - 1, row - 1
    total = 0.0
    if column < 0 or row < 0 or column + 3 >= relief.shape[1] or row + 3 >= relief.shape[0]:
        return total
    for j in range(4):
        along = 0.0
        for i in range(4):
            along += wx[i] * relief[row + j, column + i]
        total += wy[j] * along
    return total


@kernel
def height(x: float, y: float, ground: Ground) -> float:
    """[m] height of the ground at (x, y) [m]."""
    total = features_height(x, y, ground.features)
    return total + relief_height(x, y, ground) if ground.relief.size > 0 else total


@kernel
def surface(x: float, y: float, ground: Ground) -> tuple[float, float, float]:
    """Height [m] and (dh/dx, dh/dy) of the ground at (x, y) [m]."""
    total, gx, gy = features_surface(x, y, ground.features)
    if ground.relief.size > 0:
        more, mx, my = relief_surface(x, y, ground)
        total, gx, gy = total + more, gx + mx, gy + my
    return total, gx, gy


@kernel
def near_features(x: float, y: float, reach: float, features: Vector) -> tuple[int, int]:
    """First and past the last of the features within `reach` [m] of (x, y); others may lie
    between. They are in the order of their x, so the span is short."""
    first, past = 0, 0
    for i in range(features.shape[0]):
        dx, dy = x - features[i, X], y - features[i, Y]
        u = abs(features[i, COS] * dx + features[i, SIN] * dy)
        v = abs(features[i, COS] * dy - features[i, SIN] * dx)
        if u < features[i, HALF_LENGTH] + reach and v < features[i, HALF_WIDTH] + reach:
            if past == 0:
                first = i
            past = i + 1
    return first, past


@kernel
def tallest(features: Vector) -> float:
    """[m] that no point of the features lies above."""
    total = 0.0
    for i in range(features.shape[0]):
        total += max(0.0, features[i, HEIGHT])
    return total
