"""Triangles that reach behind the eye: cut at the near plane, and what is left drawn."""

from sidehill.film.render.compile import kernel
from sidehill.film.render.project import NEAR, Array, Corners, snapped, through_eye
from sidehill.film.render.raster import Indices, Nearness, draw_triangles, fill


@kernel
def cut(seen: Array, i: int, j: int, k: int, corner: Array) -> int:
    """Count of corners (4, 3) of a triangle, less what is behind the near plane."""
    count = 0
    for side in range(3):
        p = i if side == 0 else (j if side == 1 else k)
        q = j if side == 0 else (k if side == 1 else i)
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
def draw_cut(
    seen: Array, triangles: Indices, faces: Indices, focal: float, mx: float, my: float,
    nearness: Array, ids: Indices, near: Nearness, corner: Array,
) -> None:  # fmt: skip
    """Draw those of triangles (m, 3) of which a corner, but not each, has a nearness of NaN."""
    for m in range(triangles.shape[0]):
        i, j, k = triangles[m, 0], triangles[m, 1], triangles[m, 2]
        total = nearness[i] + nearness[j] + nearness[k]
        if total == total:
            continue
        for second in range(1, cut(seen, i, j, k, corner) - 1):
            # anticlockwise outside faces the eye
            p, q = second + 1, second
            a, b, c = 1.0 / corner[0, 2], 1.0 / corner[p, 2], 1.0 / corner[q, 2]
            fill(
                faces[m], ids, near,
                snapped(mx + focal * a * corner[0, 0]), snapped(my + focal * a * corner[0, 1]), a,
                snapped(mx + focal * b * corner[p, 0]), snapped(my + focal * b * corner[p, 1]), b,
                snapped(mx + focal * c * corner[q, 0]), snapped(my + focal * c * corner[q, 1]), c,
            )  # fmt: skip


@kernel
def perspective(
    points: Array, looks: Array, triangles: Indices, faces: Indices, focal: float,
    mx: float, my: float, seen: Array, places: Corners, nearness: Array,
    ids: Indices, near: Nearness, corner: Array,
) -> None:  # fmt: skip
    """Draw triangles (m, 3) over points (n, 3) [m] as the camera of a stack of looks sees them.

    Args:
        faces: (m,) what each triangle is called in `ids`; near: holds 0 where nothing stands.
        focal: [samples] distance of the picture, mx, my: its middle.
        seen: (n, 3) the points as the camera sees them, filled.
        places, nearness: (n, 2), (n,); corner: (4, 3) scratch.
    """
    through_eye(points, looks, focal, mx, my, seen, places, nearness)
    draw_triangles(triangles, faces, places, nearness, ids, near)
    draw_cut(seen, triangles, faces, focal, mx, my, nearness, ids, near, corner)
