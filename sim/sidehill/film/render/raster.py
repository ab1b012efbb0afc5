"""Triangles to a visibility buffer: which face each sample sees, and how near it is.

Corners are snapped to a sixteenth of a sample and coverage is decided in whole numbers, so
neighbours neither overlap nor leave a gap. Triangles are drawn in order: no race, no chance.
"""

from math import floor

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Corners = NDArray[np.int64]
Nearness = NDArray[np.float32]

SNAP = 16  # steps of a sample
NOTHING, NAMELESS = -1, -2  # no face; a face of which only the nearness is kept
NARROW = 16  # [samples] width up to which every sample of a triangle's box is asked
LANES = 16  # samples that a processor goes through at a time
EXACT = 1 << 50  # whole numbers below it, and halves, are exact as floats


@kernel
def edge(ax: int, ay: int, bx: int, by: int) -> tuple[int, int, int]:
    """The edge function a x + b y + c of samples (x, y): at least 0 inside.

    Ties go to one side only.
    """
    a, b, half = ay - by, bx - ax, SNAP // 2
    c = a * (half - ax) + b * (half - ay) - (a < 0 or (a == 0 and b < 0))
    return a * SNAP, b * SNAP, c


@kernel
def at_row(a: int, c: int) -> tuple[int, int]:
    """First and last x at which a x + c >= 0, for whole numbers."""
    if a > 0:
        return -divided(c, a), 1 << 30
    if a < 0:
        return -(1 << 30), divided(c, -a)
    return (-(1 << 30), 1 << 30) if c >= 0 else (1 << 30, -(1 << 30))


@kernel
def divided(c: int, a: int) -> int:
    """c // a for a > 0; by a float's division where that is exact, which is faster."""
    return floor((c + 0.5) / a) if -EXACT < c < EXACT else c // a


@kernel
def fill_row(
    name: int, ids: Indices, near: Nearness, y: int, first: int, last: int, w: float, step: float
) -> None:
    """Samples of a row from `first` to `last`; w: nearness at the first one, step: to the next.

    Whole lanes are gone through: that takes less time than to stop where they end.
    """
    begin = first // LANES * LANES
    end = min(last // LANES * LANES + LANES, near.shape[1])
    start, slope, row = np.float32(w), np.float32(step), near[y, begin:end]
    low, high = np.int32(first - begin), np.int32(last - begin)
    if name == NAMELESS:
        for k in range(np.int32(end - begin)):
            now = start + slope * np.float32(np.int32(k) - low)
            row[k] = now if low <= k <= high and now > row[k] else row[k]
    else:
        names = ids[y, begin:end]
        for k in range(np.int32(end - begin)):
            now = start + slope * np.float32(np.int32(k) - low)
            nearest = low <= k <= high and now > row[k]
            row[k] = now if nearest else row[k]
            names[k] = np.int32(name) if nearest else names[k]


@kernel
def fill_narrow(
    name: int, ids: Indices, near: Nearness, y: int, left: int, right: int,
    e0: int, a0: int, e1: int, a1: int, e2: int, a2: int, w: float, step: float,
) -> None:  # fmt: skip
    """Those samples of a row that are inside; e: edge functions at `left`, a: to the next."""
    for x in range(left, right + 1):
        if (e0 | e1 | e2) >= 0:  # none of them is negative
            now = np.float32(w + step * (x - left))
            if now > near[y, x]:
                near[y, x] = now
                if name != NAMELESS:
                    ids[y, x] = name
        e0, e1, e2 = e0 + a0, e1 + a1, e2 + a2


@kernel
def fill(
    name: int, ids: Indices, near: Nearness,
    x0: int, y0: int, w0: float,
    x1: int, y1: int, w1: float,
    x2: int, y2: int, w2: float,
) -> None:  # fmt: skip
    """Draw one triangle; x right, y down in steps of a sample, w: nearness, linear on the screen.

    Only one that runs clockwise on the screen is drawn. `NAMELESS`: into `near` alone.
    """
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
    a0, b0, c0 = edge(x0, y0, x1, y1)
    a1, b1, c1 = edge(x1, y1, x2, y2)
    a2, b2, c2 = edge(x2, y2, x0, y0)
    wx = SNAP * ((w1 - w0) * (y2 - y0) - (w2 - w0) * (y1 - y0)) / area
    wy = SNAP * ((w2 - w0) * (x1 - x0) - (w1 - w0) * (x2 - x0)) / area
    at_left = w0 + wx * (left + 0.5 - x0 / SNAP) + wy * (0.5 - y0 / SNAP)
    if right - left < NARROW:
        for y in range(top, bottom + 1):
            e0, e1 = a0 * left + b0 * y + c0, a1 * left + b1 * y + c1
            e2 = a2 * left + b2 * y + c2
            w = at_left + wy * y
            fill_narrow(name, ids, near, y, left, right, e0, a0, e1, a1, e2, a2, w, wx)
        return
    for y in range(top, bottom + 1):
        l0, r0 = at_row(a0, b0 * y + c0)
        l1, r1 = at_row(a1, b1 * y + c1)
        l2, r2 = at_row(a2, b2 * y + c2)
        first, last = max(left, l0, l1, l2), min(right, r0, r1, r2)
        if first <= last:
            w = at_left + wy * y + wx * (first - left)
            fill_row(name, ids, near, y, first, last, w, wx)


@kernel
def draw_triangles(
    triangles: Indices, faces: Indices, places: Corners, nearness: Array,
    ids: Indices, near: Nearness,
) -> None:  # fmt: skip
    """Draw triangles (m, 3) over corners at places (n, 2), in steps of a sample.

    Args:
        faces: (m,) what each triangle is called in `ids`; none, (0,): `ids` is left alone.
        nearness: (n,) of the corners, linear on the screen; NaN for one behind the eye, whose
            triangles are left out.
    """
    for m in range(triangles.shape[0]):
        # corners run anticlockwise seen from outside: clockwise on a screen whose y is down
        i, j, k = triangles[m, 0], triangles[m, 2], triangles[m, 1]
        w0, w1, w2 = nearness[i], nearness[j], nearness[k]
        if w0 + w1 + w2 == w0 + w1 + w2:
            name = faces[m] if faces.shape[0] > 0 else NAMELESS
            fill(
                name, ids, near, places[i, 0], places[i, 1], w0,
                places[j, 0], places[j, 1], w1, places[k, 0], places[k, 1], w2,
            )  # fmt: skip
