"""URDF primitives as triangles."""

from dataclasses import dataclass
from math import acos, ceil, pi

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int32]

FLATNESS = 0.0012  # [m] by which a facet may cut into a round shape
FEWEST, MOST = 14, 56  # facets round a circle


@dataclass(frozen=True)
class Solid:
    """A closed surface; corners run anticlockwise seen from outside."""

    points: Array  # (n, 3) [m]
    normals: Array  # (n, 3)
    triangles: Indices  # (m, 3) rows of points


def box(size: Array) -> Solid:
    """A box about its centre, `size` (3,) [m] whole edges."""
    points: list[Array] = []
    normals: list[Array] = []
    triangles: list[tuple[int, int, int]] = []
    for axis in range(3):
        u, v = np.eye(3)[(axis + 1) % 3], np.eye(3)[(axis + 2) % 3]
        for side in (1.0, -1.0):
            normal = side * np.eye(3)[axis]
            a, b = (u, v) if side > 0 else (v, u)
            first = len(points)
            corners = [normal + s * a + t * b for s, t in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
            points += [corner * size / 2 for corner in corners]
            normals += [normal] * 4
            triangles += [(first, first + 1, first + 2), (first, first + 2, first + 3)]
    return Solid(np.array(points), np.array(normals), np.array(triangles, dtype=np.int32))


def facets(radius: float) -> int:
    """How many flat sides a circle of that radius [m] is given."""
    half = acos(max(1.0 - FLATNESS / radius, 0.0))
    return int(np.clip(ceil(pi / max(half, 1e-3)), FEWEST, MOST))


def cylinder(radius: float, length: float) -> Solid:
    """A cylinder about its centre, axis along z [m]."""
    n = facets(radius)
    turn = 2 * pi * np.arange(n) / n
    ring = np.stack([np.cos(turn), np.sin(turn), np.zeros(n)], axis=1)
    half = np.array([0.0, 0.0, length / 2])
    k, j = np.arange(n), (np.arange(n) + 1) % n
    low, high = radius * ring - half, radius * ring + half
    sides = np.concatenate([np.stack([k, j, n + j], 1), np.stack([k, n + j, n + k], 1)])
    fan = np.arange(1, n - 1)
    top = 2 * n + np.stack([np.zeros_like(fan), fan, fan + 1], axis=1)
    bottom = 3 * n + np.stack([np.zeros_like(fan), fan + 1, fan], axis=1)
    up = np.tile([0.0, 0.0, 1.0], (n, 1))
    return Solid(
        np.concatenate([low, high, high, low]),
        np.concatenate([ring, ring, up, -up]),
        np.concatenate([sides, top, bottom]).astype(np.int32),
    )


def sphere(radius: float) -> Solid:
    """A sphere about its centre [m]."""
    around, down = facets(radius), max(facets(radius) // 2, 6)
    polar = pi * np.arange(down + 1) / down
    turn = 2 * pi * np.arange(around) / around
    normals = np.stack(
        [
            np.outer(np.sin(polar), np.cos(turn)),
            np.outer(np.sin(polar), np.sin(turn)),
            np.outer(np.cos(polar), np.ones(around)),
        ],
        axis=2,
    ).reshape(-1, 3)
    triangles = []
    for i in range(down):
        for k in range(around):
            j = (k + 1) % around
            a, b, c, d = (
                i * around + k,
                i * around + j,
                (i + 1) * around + j,
                (i + 1) * around + k,
            )
            triangles += [(a, d, c)] if i < down - 1 else []
            triangles += [(a, c, b)] if i > 0 else []
    return Solid(radius * normals, normals, np.array(triangles, dtype=np.int32))
