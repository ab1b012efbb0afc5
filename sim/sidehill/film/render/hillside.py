"""The bank as a mesh: a plane at its slope with its features, level ground above and below."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, sin

import numpy as np

from sidehill.film.render.relief import relief
from sidehill.film.render.shapes import Array, Indices
from sidehill.kernels.height import COS, FLANK, HALF_LENGTH, HALF_WIDTH, SIN, Ground, X, Y

FINE = 0.035  # [m] widest mesh over a feature
SMOOTH = 1.5  # [m] mesh elsewhere
ROUGH = 0.10  # [m] mesh over rough ground, whose shortest wave is 0.35 m
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


@dataclass(frozen=True)
class Bank:
    """A plane at its slope that runs out into level ground at its foot and its top."""

    uphill: Array  # (2,) unit vector of the hillside plane, up the bank
    reach: Array  # (2, 2) [m] of the plane, along the contour and up the bank
    up: Array  # (n,) [m] coordinates up the bank at which its profile bends
    rise: Array  # (n,) [m] of the ground off the plane there
    way: Array  # (n,) [m] over the ground to there

    @property
    def contour(self) -> Array:
        """(2,) unit vector along the contour."""
        return np.array([self.uphill[1], -self.uphill[0]])

    def above(self, point: Array) -> float:
        """[m] of a point (3,) of the hillside frame off the ground, bumps left aside."""
        return float(point[2] - np.interp(point[:2] @ self.uphill, self.up, self.rise))


def lines(low: float, high: float, spans: Sequence[tuple[float, float]], usual: float) -> Array:
    """Mesh lines [m] from `low` to `high`, `usual` [m] apart, fine over the spans."""
    parts = [np.linspace(low, high, max(int((high - low) / usual), 2))]
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
        np.concatenate([outward[1:], outward[-1] + rest * cos(angle)]),
        np.concatenate([height[1:], height[-1] + rest * sin(angle)]),
        np.concatenate([length[1:], length[-1] + rest]),
    )


def build_bank(uphill: Array, angle: float, reach: Array) -> Bank:
    """The shape of a bank.

    Args:
        uphill: (2,) unit vector up the bank; angle: [rad] its steepness.
        reach: (2, 2) [m] lowest and highest coordinate along the contour and up the bank, of
            what must lie on the plane.
    """
    outward, height, length = run_out(angle)
    low, high = reach[1]
    return Bank(
        uphill=uphill,
        reach=reach,
        up=np.concatenate([low - outward[::-1], reach[1], high + outward]),
        rise=np.concatenate([height[::-1], [0.0, 0.0], -height]),
        way=np.concatenate([low - length[::-1], reach[1], high + length]),
    )


def bank_grid(bank: Bank, ground: Ground) -> Grid:
    """The bank's mesh in the hillside frame, with the features and roughness of `ground`."""
    (a0, a1), (s0, s1) = bank.reach
    usual = ROUGH if ground.relief.size else SMOOTH
    near = lines(a0, a1, spans(ground.features, bank.contour), usual)
    run = np.concatenate([a0 - np.array(COARSE)[::-1], near, a1 + np.array(COARSE)])
    plane = lines(s0, s1, spans(ground.features, bank.uphill), usual)
    up = np.concatenate([bank.up[bank.up < s0], plane, bank.up[bank.up > s1]])
    A, S = np.meshgrid(run, up, indexing="ij")
    onto = np.clip(S, s0, s1)  # a ridge that reaches past the plane runs on level
    x, y = (A * bank.contour[k] + onto * bank.uphill[k] for k in (0, 1))
    bumps, worn = np.zeros(A.size), np.zeros(A.size)
    relief(x.ravel(), y.ravel(), ground, bumps)
    relief(x.ravel(), y.ravel(), ground._replace(relief=np.zeros((0, 0))), worn)
    rise, way = (np.interp(S, bank.up, values) for values in (bank.rise, bank.way))
    flat = A[..., None] * bank.contour + S[..., None] * bank.uphill
    points = np.concatenate([flat, (rise + bumps.reshape(A.shape))[..., None]], axis=2)
    bare = np.clip(np.abs(worn) / BARE, 0.0, 1.0).reshape(A.shape)
    return Grid(points, np.stack([A, way, bare], axis=2))


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
