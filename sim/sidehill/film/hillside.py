"""The bank as a mesh: a plane at its slope with its features, level ground above and below."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin

import numpy as np

from sidehill.film.relief import relief
from sidehill.film.shapes import Array, Indices
from sidehill.terrain.height import COS, FLANK, HALF_LENGTH, HALF_WIDTH, SIN, X, Y

FINE = 0.035  # [m] widest mesh over a feature
BEND = 4.0  # [m] over which the bank runs out into level ground
STEPS = 10  # of a bend
BARE = 0.03  # [m] off the plane at which the ground is worn bare
FAR = 260.0  # [m] end of the level ground
COARSE = (0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0, FAR)  # [m] beyond the fine mesh


@dataclass(frozen=True)
class Grid:
    """Points in rows and columns; every cell is two triangles."""

    points: Array  # (n, m, 3) [m]
    ground: Array  # (n, m, 3) places [m] along and up the ground, bareness 0 to 1


def across(uphill: Array) -> Array:
    """(2,) unit vector along the contour, for one up the bank."""
    return np.array([uphill[1], -uphill[0]])


def lines(low: float, high: float, spans: Sequence[tuple[float, float]]) -> Array:
    """Mesh lines [m] from `low` to `high`, fine over the spans."""
    parts = [np.linspace(low, high, max(int((high - low) / 1.5), 2))]
    for start, end in spans:
        start, end = max(start, low), min(end, high)
        if start < end:
            parts.append(np.linspace(start, end, max(int((end - start) / FINE) + 2, 12)))
    return np.unique(np.round(np.concatenate(parts), 4))


def spans(features: Array, along: Array) -> list[tuple[float, float]]:
    """Reach [m] of every feature along a unit vector (2,) of the hillside plane."""
    found = []
    for row in features:
        u, v = np.array([row[COS], row[SIN]]), np.array([-row[SIN], row[COS]])
        middle = float(along @ (row[X], row[Y]))
        lengthwise = abs(float(along @ u)) * row[HALF_LENGTH]
        crosswise = abs(float(along @ v)) * row[HALF_WIDTH]
        if lengthwise < 1e-9:  # straight across it only the flanks bend
            inner = crosswise - row[FLANK]
            found += [(middle - crosswise, middle - inner), (middle + inner, middle + crosswise)]
        else:
            reach = lengthwise + crosswise
            found.append((middle - reach, middle + reach))
    return found


def run_out(angle: float) -> tuple[Array, Array, Array]:
    """Where the bank goes past its edge: distance outward, height and length on the way [m].

    Both in the bank's own axes; the height is what is to be taken from a bank that rises.
    """
    stride = BEND / STEPS
    turns = angle * (np.arange(STEPS) + 0.5) / STEPS
    outward = np.concatenate([[0.0], np.cumsum(stride * np.cos(turns))])
    height = np.concatenate([[0.0], np.cumsum(stride * np.sin(turns))])
    length = stride * np.arange(STEPS + 1)
    rest = np.array(COARSE)
    return (
        np.concatenate([outward, outward[-1] + rest * cos(angle)])[1:],
        np.concatenate([height, height[-1] + rest * sin(angle)])[1:],
        np.concatenate([length, length[-1] + rest])[1:],
    )


def hillside(features: Array, uphill: Array, angle: float, reach: Array) -> Grid:
    """The bank's mesh in the hillside frame.

    Args:
        features: rows for `terrain.height`.
        uphill: (2,) unit vector up the bank; angle: [rad] its steepness.
        reach: (2, 2) [m] lowest and highest coordinate across the fall line and up it, of
            what must lie on the plane.
    """
    contour = across(uphill)
    (a0, a1), (s0, s1) = reach
    near = lines(a0, a1, spans(features, contour))
    run = np.concatenate([a0 - np.array(COARSE)[::-1], near, a1 + np.array(COARSE)])
    plane = lines(s0, s1, spans(features, uphill))
    outward, height, length = run_out(angle)
    up = np.concatenate([s0 - outward[::-1], plane, s1 + outward])
    rise = np.concatenate([height[::-1], np.zeros(len(plane)), -height])
    way = np.concatenate([s0 - length[::-1], plane, s1 + length])
    A, S = np.meshgrid(run, up, indexing="ij")
    onto = np.clip(S, s0, s1)  # a ridge that reaches past the plane runs on level
    x, y = A * contour[0] + onto * uphill[0], A * contour[1] + onto * uphill[1]
    bumps = np.zeros(A.size)
    relief(x.ravel(), y.ravel(), features, bumps)
    bumps = bumps.reshape(A.shape)
    flat = A[..., None] * contour + S[..., None] * uphill
    points = np.concatenate([flat, (rise + bumps)[..., None]], axis=2)
    bare = np.clip(np.abs(bumps) / BARE, 0.0, 1.0)
    return Grid(points, np.stack([A, np.broadcast_to(way, A.shape), bare], axis=2))


def grid_normals(points: Array) -> Array:
    """(n, m, 3) normals of a grid of points, from its neighbours."""
    rows, columns = (np.gradient(points, axis=axis) for axis in (0, 1))
    normals = np.cross(rows, columns)
    return np.asarray(normals / np.linalg.norm(normals, axis=2, keepdims=True))


def grid_triangles(rows: int, columns: int) -> Indices:
    """(m, 3) two triangles for every cell of a grid."""
    first = (np.arange(rows - 1)[:, None] * columns + np.arange(columns - 1)[None, :]).ravel()
    return np.concatenate(
        [
            np.stack([first, first + columns, first + columns + 1], axis=1),
            np.stack([first, first + columns + 1, first + 1], axis=1),
        ]
    ).astype(np.int32)
