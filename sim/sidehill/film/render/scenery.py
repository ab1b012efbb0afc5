"""What stands around the machine: the bank with a fence, or a tilt table on level ground."""

import numpy as np

from sidehill.film.render.finish import GRASS
from sidehill.film.render.hillside import (
    BEND,
    Bank,
    Grid,
    bank_grid,
    build_bank,
    grid_normals,
    grid_triangles,
)
from sidehill.film.render.level import fall_line, levelling
from sidehill.film.render.model import Piece
from sidehill.film.render.setting import Setting
from sidehill.film.render.shapes import Array, box

BANK, LEVEL = "the hillside", "the level"  # links that the record does not have
GREEN, WOOD, STEEL = (0.30, 0.45, 0.18), (0.42, 0.36, 0.30), (0.46, 0.47, 0.50)
AHEAD, BEHIND, BESIDE = 10.0, 7.0, 4.2  # [m] of bank kept around where the machine goes
POST, BURIED = np.array([0.10, 0.10, 1.35]), 0.2  # [m] fence post, and what is in the ground
POSTS, RAILS = 2.5, (0.55, 1.05)  # [m] between posts; heights of the rails
BEYOND, FENCE = 1.2, 20.0  # [m] from the bank's edge to the fence; that it goes on along it
DECK = np.array([7.0, 7.6, 0.16])  # [m] of a tilt table
DROP = 0.45  # [m] from the deck down to the ground
HINGE = 0.46  # of the deck's width, from the middle down to its hinge


def bank_around(setting: Setting, against_gravity: Array, track: Array) -> Bank:
    """The bank under the machine's whole way; track (n, 2) [m] places of it."""
    uphill, angle = fall_line(against_gravity, setting.uphill)
    a, s = track @ np.array([uphill[1], -uphill[0]]), track @ uphill
    before, after = (BEHIND, AHEAD) if a[-1] >= a[0] else (AHEAD, BEHIND)
    along = (a.min() - before, a.max() + after)
    return build_bank(uphill, angle, np.array([along, (s.min() - BESIDE, s.max() + BESIDE)]))


def bank_pieces(bank: Bank, setting: Setting, against_gravity: Array) -> list[Piece]:
    """Grass and fence."""
    grass = grass_piece(BANK, bank_grid(bank, setting.relief))
    return [grass, *fence(bank, against_gravity)]


def grass_piece(link: str, grid: Grid) -> Piece:
    """A grid as grass."""
    rows, columns = grid.points.shape[:2]
    return Piece(
        link, GRASS, GREEN, grid.points.reshape(-1, 3), grid_normals(grid.points).reshape(-1, 3),
        grid_triangles(rows, columns), grid.ground.reshape(-1, 3),
    )  # fmt: skip


def fence(bank: Bank, against_gravity: Array) -> list[Piece]:
    """Upright posts and rails along the foot and the top of the bank: they show what is level."""
    contour, upright = np.append(bank.contour, 0.0), levelling(against_gravity).T
    (a0, a1), (s0, s1) = bank.reach
    start, end = np.floor(a0 - FENCE), a1 + FENCE
    along = turned_to(contour, against_gravity)
    pieces = []
    for way in (s0 - BEND - BEYOND, s1 + BEND + BEYOND):
        up, rise = (float(np.interp(way, bank.way, v)) for v in (bank.up, bank.rise))
        foot = np.append(up * bank.uphill, rise)
        for a in np.arange(start, end, POSTS):
            middle = foot + a * contour + 0.5 * (POST[2] - BURIED) * against_gravity
            pieces.append(board(POST, middle, upright))
        for high in RAILS:
            middle = foot + 0.5 * (start + end) * contour + high * against_gravity
            pieces.append(board(np.array([end - start, 0.03, 0.11]), middle, along))
    return pieces


def turned_to(contour: Array, against_gravity: Array) -> Array:
    """(3, 3) whose x runs along the contour and whose z is as upright as that allows."""
    y = np.cross(against_gravity, contour)
    y /= np.linalg.norm(y)
    return np.stack([contour, y, np.cross(contour, y)], axis=1)


def board(size: Array, middle: Array, turn: Array) -> Piece:
    """A wooden box on the bank."""
    solid = box(size)
    return Piece(
        BANK, "wood", WOOD, solid.points @ turn.T + middle, solid.normals @ turn.T, solid.triangles
    )


def table(middle: Array) -> list[Piece]:
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
