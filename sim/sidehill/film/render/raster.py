"""Triangles to a visibility buffer: which triangle each sample sees, and how near it is.

Corners are snapped to a sixteenth of a sample and coverage is decided in whole numbers, so
neighbours neither overlap nor leave a gap. Triangles are drawn in order: no race, no chance.
"""

from math import floor

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Nearness = NDArray[np.float32]

SNAP = 16  # steps of a sample
NEAR = 0.05  # [m] what is nearer to the eye is cut away
NOTHING = -1


@kernel
def at_row(a: int, c: int) -> tuple[int, int]:
    """First and last x at which a x + c >= 0, for whole numbers."""
    if a > 0:
        return -(c // a), 1 << 30
    if a < 0:
        return -(1 << 30), c // -a
    return (-(1 << 30), 1 << 30) if c >= 0 else (1 << 30, -(1 << 30))


@kernel
def fill(
    name: int, ids: Indices, near: Nearness,
    ax: float, ay: float, aw: float,
    bx: float, by: float, bw: float,
    cx: float, cy: float, cw: float,
) -> None:  # fmt: skip
    """Draw one triangle; x right, y down in samples, w: nearness, linear across the screen.

    Only one that runs clockwise on the screen is drawn.
    """
    x0, y0 = floor(ax * SNAP + 0.5), floor(ay * SNAP + 0.5)
    x1, y1 = floor(bx * SNAP + 0.5), floor(by * SNAP + 0.5)
    x2, y2 = floor(cx * SNAP + 0.5), floor(cy * SNAP + 0.5)
    area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    if area <= 0:
        return
    half = SNAP // 2
    top = max((min(y0, y1, y2) + half - 1) // SNAP, 0)
    bottom = min((max(y0, y1, y2) - half) // SNAP, near.shape[0] - 1)
    left = max((min(x0, x1, x2) + half - 1) // SNAP, 0)
    right = min((max(x0, x1, x2) - half) // SNAP, near.shape[1] - 1)
    if top > bottom or left > right:
        return
    # edge functions at sample (x, y): a x + b y + c >= 0 inside; ties go to one side only
    a0, b0 = (y0 - y1) * SNAP, (x1 - x0) * SNAP
    a1, b1 = (y1 - y2) * SNAP, (x2 - x1) * SNAP
    a2, b2 = (y2 - y0) * SNAP, (x0 - x2) * SNAP
    c0 = (y0 - y1) * (half - x0) + (x1 - x0) * (half - y0) - (a0 < 0 or (a0 == 0 and b0 < 0))
    c1 = (y1 - y2) * (half - x1) + (x2 - x1) * (half - y1) - (a1 < 0 or (a1 == 0 and b1 < 0))
    c2 = (y2 - y0) * (half - x2) + (x0 - x2) * (half - y2) - (a2 < 0 or (a2 == 0 and b2 < 0))
    twice = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    if twice == 0.0:
        return
    wx = ((bw - aw) * (cy - ay) - (cw - aw) * (by - ay)) / twice
    wy = ((cw - aw) * (bx - ax) - (bw - aw) * (cx - ax)) / twice
    least, most = min(aw, bw, cw), max(aw, bw, cw)
    for y in range(top, bottom + 1):
        l0, r0 = at_row(a0, b0 * y + c0)
        l1, r1 = at_row(a1, b1 * y + c1)
        l2, r2 = at_row(a2, b2 * y + c2)
        base = aw + wy * (y + 0.5 - ay) + wx * (0.5 - ax)
        for x in range(max(left, l0, l1, l2), min(right, r0, r1, r2) + 1):
            w = np.float32(min(max(base + wx * x, least), most))
            if w > near[y, x]:
                near[y, x] = w
                ids[y, x] = name


@kernel
def clip(seen: Array, i: int, j: int, k: int, corner: Array) -> int:
    """Count of corners (4, 3) of a triangle, less what is behind the near plane."""
    count = 0
    for edge in range(3):
        p = i if edge == 0 else (j if edge == 1 else k)
        q = j if edge == 0 else (k if edge == 1 else i)
        before = seen[p, 2] >= NEAR
        if before:
            for axis in range(3):
                corner[count, axis] = seen[p, axis]
            count += 1
        if before != (seen[q, 2] >= NEAR):
            # always cut from the same end, so that neighbours meet in the same point
            if not before:
                p, q = q, p
            share = (seen[p, 2] - NEAR) / (seen[p, 2] - seen[q, 2])
            for axis in range(2):
                corner[count, axis] = seen[p, axis] + share * (seen[q, axis] - seen[p, axis])
            corner[count, 2] = NEAR
            count += 1
    return count


@kernel
def perspective(
    seen: Array, triangles: Indices, focal: float, ids: Indices, near: Nearness, corner: Array
) -> None:
    """Draw triangles (m, 3) over points (n, 3) right, down, forward [m] of the eye.

    Args:
        focal: [samples] distance of the picture; the eye looks at its middle.
        corner: (4, 3) scratch.
    """
    mx, my = 0.5 * near.shape[1], 0.5 * near.shape[0]
    for i in range(triangles.shape[0]):
        count = clip(seen, triangles[i, 0], triangles[i, 1], triangles[i, 2], corner)
        for k in range(1, count - 1):
            # anticlockwise outside faces the eye
            a, b, c = 1.0 / corner[0, 2], 1.0 / corner[k + 1, 2], 1.0 / corner[k, 2]
            fill(
                i, ids, near,
                mx + focal * a * corner[0, 0], my + focal * a * corner[0, 1], a,
                mx + focal * b * corner[k + 1, 0], my + focal * b * corner[k + 1, 1], b,
                mx + focal * c * corner[k, 0], my + focal * c * corner[k, 1], c,
            )  # fmt: skip


@kernel
def parallel(seen: Array, triangles: Indices, scale: float, ids: Indices, near: Nearness) -> None:
    """The same without perspective: nearness is the distance towards the eye [m], `scale`
    samples a metre."""
    mx, my = 0.5 * near.shape[1], 0.5 * near.shape[0]
    for m in range(triangles.shape[0]):
        i, j, k = triangles[m, 0], triangles[m, 2], triangles[m, 1]
        fill(
            m, ids, near,
            mx + scale * seen[i, 0], my + scale * seen[i, 1], -seen[i, 2],
            mx + scale * seen[j, 0], my + scale * seen[j, 1], -seen[j, 2],
            mx + scale * seen[k, 0], my + scale * seen[k, 1], -seen[k, 2],
        )  # fmt: skip
