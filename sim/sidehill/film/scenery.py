"""What stands around the machine: the bank with a fence, or a tilt table on level ground."""

import numpy as np

from sidehill.film.finish import GRASS
from sidehill.film.hillside import (
    BEND,
    Grid,
    across,
    grid_normals,
    grid_triangles,
    hillside,
    run_out,
)
from sidehill.film.level import fall_line, levelling
from sidehill.film.model import Piece
from sidehill.film.setting import Setting
from sidehill.film.shapes import Array, box

BANK, LEVEL = "the hillside", "the level"  # links that the record does not have
GREEN, WOOD, STEEL = (0.30, 0.45, 0.18), (0.42, 0.36, 0.30), (0.46, 0.47, 0.50)
AHEAD, BEHIND, BESIDE = 10.0, 7.0, 4.2  # [m] of bank kept around where the machine goes
POSTS, RAILS = 2.5, (0.55, 1.05)  # [m] between fence posts; heights of the rails
BEYOND = 1.2  # [m] from the bank's edge to the fence
DECK = np.array([6.4, 4.4, 0.16])  # [m] of a tilt table
DROP = 0.45  # [m] from the deck down to the ground
HINGE = 0.46  # of the deck's width, from the middle down to its hinge


def bank(setting: Setting, against_gravity: Array, track: Array) -> list[Piece]:
    """The bank under the machine's whole way; track (n, 2) [m] places of it."""
    uphill, angle = fall_line(against_gravity, setting.uphill)
    contour = across(uphill)
    a, s = track @ contour, track @ uphill
    forward = np.sign(contour[0]) or 1.0
    margin = (BEHIND, AHEAD) if forward > 0 else (AHEAD, BEHIND)
    reach = np.array(
        [
            [a.min() - margin[0], a.max() + margin[1]],
            [s.min() - BESIDE, s.max() + BESIDE],
        ]
    )
    grass = grass_piece(BANK, hillside(setting.features, uphill, angle, reach))
    return [grass, *fence(against_gravity, uphill, angle, reach)]


def grass_piece(link: str, grid: Grid) -> Piece:
    """A grid as grass."""
    rows, columns = grid.points.shape[:2]
    return Piece(
        link, GRASS, GREEN, grid.points.reshape(-1, 3), grid_normals(grid.points).reshape(-1, 3),
        grid_triangles(rows, columns), grid.ground.reshape(-1, 3),
    )  # fmt: skip


def fence(against_gravity: Array, uphill: Array, angle: float, reach: Array) -> list[Piece]:
    """Upright posts and rails along the foot and the top of the bank: they show what is level."""
    outward, height, length = run_out(angle)
    edge = int(np.searchsorted(length, BEND + BEYOND))
    (a0, a1), (s0, s1) = reach
    contour, upright = across(uphill), levelling(against_gravity).T
    pieces = []
    for s, z in ((s0 - outward[edge], height[edge]), (s1 + outward[edge], -height[edge])):
        foot = np.append(s * uphill, z)
        for a in np.arange(np.floor(a0 - 12.0), a1 + 30.0, POSTS):
            middle = foot + np.append(a * contour, 0.0) + 0.55 * against_gravity
            pieces.append(board(np.array([0.10, 0.10, 1.3]), middle, upright))
        for high in RAILS:
            middle = foot + np.append((0.5 * (a0 + a1) + 9.0) * contour, 0.0)
            size = np.array([a1 - a0 + 42.0, 0.03, 0.11])
            along = turned_to(contour, against_gravity)
            pieces.append(board(size, middle + high * against_gravity, along))
    return pieces


def turned_to(contour: Array, against_gravity: Array) -> Array:
    """(3, 3) whose x runs along the contour and whose z is as upright as that allows."""
    x = np.append(contour, 0.0)
    y = np.cross(against_gravity, x)
    y /= np.linalg.norm(y)
    return np.stack([x, y, np.cross(x, y)], axis=1)


def board(size: Array, middle: Array, turn: Array) -> Piece:
    """A wooden box on the bank."""
    solid = box(size)
    return Piece(
        BANK, "wood", WOOD, solid.points @ turn.T + middle, solid.normals @ turn.T, solid.triangles
    )


def table(setting: Setting, middle: Array) -> list[Piece]:
    """A deck under the standing machine, whose middle is at (2,) [m], and a yard below it."""
    solid = box(DECK)
    place = np.array([middle[0], middle[1], -DECK[2] / 2])
    deck = Piece(BANK, "deck", STEEL, solid.points + place, solid.normals, solid.triangles)
    yard = grass_piece(LEVEL, flat(middle))
    return [deck, yard]


def hinge(setting: Setting, middle: Array) -> Array:
    """(3,) [m] the edge that the deck turns about."""
    return np.array([middle[0], middle[1] - setting.uphill * HINGE * DECK[1], -DECK[2]])


def flat(middle: Array) -> Grid:
    """Level ground below the deck."""
    reach = np.array([-260.0, -60.0, -15.0, -5.0, 0.0, 5.0, 15.0, 60.0, 260.0])
    A, S = np.meshgrid(reach + middle[0], reach + middle[1], indexing="ij")
    points = np.stack([A, S, np.full(A.shape, -DROP - DECK[2])], axis=2)
    return Grid(points, np.stack([A, S, np.zeros(A.shape)], axis=2))
