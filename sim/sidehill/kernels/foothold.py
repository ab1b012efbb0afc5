"""Where on its rim a disc pushes on the ground, by the law of its tyre."""

from math import sqrt

from sidehill.kernels.envelope import enveloped, enveloped_relief
from sidehill.kernels.height import Ground
from sidehill.kernels.jit import kernel
from sidehill.kernels.rim import deepest, deepest_on_relief, rim_point


@kernel
def foothold(
    envelops: float, near: bool, m: float, cx: float, cy: float, cz: float, ex: float, ey: float,
    dx: float, dy: float, dz: float, radius: float, pitch: float, most: float, ground: Ground,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """[m] down and forward from the disc's centre to where it pushes, and height [m] and
    gradient of what it stands on there.

    envelops: 1 where the tyre envelops the ground, 0 where it meets it at its deepest point;
    near: whether features are, or heights that bend as much; m: tangent of the direction to
    begin with on rough ground; the rest as in `rim.deepest`.
    """
    if near and envelops == 0.0:
        turn, high, gx, gy = deepest(m, cx, cy, cz, ex, ey, dx, dy, dz, radius, pitch, most, ground)
        down, ahead = rim_point(turn, radius)
        return down, ahead, high, gx, gy
    if near:
        m, high, gx, gy = enveloped(cx, cy, cz, ex, ey, dx, dy, dz, radius, pitch, most, ground)
    elif envelops == 0.0:
        m, high, gx, gy = deepest_on_relief(m, cx, cy, ex, ey, dx, dy, dz, radius, ground)
    else:
        m, high, gx, gy = enveloped_relief(m, cx, cy, cz, ex, ey, dx, dy, dz, radius, ground)
    down = radius / sqrt(1.0 + m * m)
    return down, m * down, high, gx, gy
