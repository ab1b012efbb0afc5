"""A machine as seen from behind, in the plain shapes that meet the ground in a fall."""

from dataclasses import dataclass

import numpy as np

from sidehill.kernels.layout import Vector
from sidehill.machine.fitted import Fitted
from sidehill.machine.loader import pin_height
from sidehill.picture.colours import DARK_GREY, GREY, PALE_GREY, PLUM
from sidehill.urdf.bucket import heights as bucket_heights
from sidehill.urdf.collision import chassis, rollbar
from sidehill.urdf.piece import Box, Piece

ROUND = 0.3  # of a tyre's half width: its corners' radius
FACES = {"plum": PLUM, "black": PALE_GREY, "dark grey": DARK_GREY}


@dataclass(frozen=True)
class Outline:
    """One filled shape; the further back in the list, the nearer."""

    points: Vector  # (n, 2) [m] to the left, up
    face: str
    edge: str


def silhouette(fitted: Fitted) -> list[Outline]:
    """What is seen from behind, furthest first."""
    machine = fitted.machine
    bodies = [_box(piece) for piece in (*chassis(fitted), *rollbar(fitted))]
    front, rear = machine.front_tyre, machine.rear_tyre
    return [
        *_bucket(fitted),
        *(_tyre(y, front.radius, front.width, GREY) for y in _pair(fitted.front_track)),
        *bodies[:1],
        _axle(fitted.rear_track / 2.0, rear.radius),
        *bodies[1:],
        *(_tyre(y, rear.radius, rear.width, DARK_GREY) for y in _pair(fitted.rear_track)),
    ]


def _pair(track: float) -> tuple[float, float]:
    return track / 2.0, -track / 2.0


def _rectangle(y: tuple[float, float], z: tuple[float, float]) -> Vector:
    return np.array([(y[0], z[0]), (y[1], z[0]), (y[1], z[1]), (y[0], z[1])])


def _box(piece: Piece) -> Outline:
    """An upright box from behind."""
    assert isinstance(piece.shape, Box)
    (_, y, z), (_, wide, high) = piece.place, piece.shape.size
    points = _rectangle((y - wide / 2.0, y + wide / 2.0), (z - high / 2.0, z + high / 2.0))
    return Outline(points, FACES[piece.material], DARK_GREY)


def _tyre(y: float, radius: float, width: float, face: str) -> Outline:
    """A tyre's outline, with its corners rounded off."""
    corner = ROUND * width / 2.0
    turn = np.linspace(0.0, np.pi / 2.0, 9)
    quarter = np.column_stack([np.cos(turn), np.sin(turn)])
    points = []
    for side, up, order in ((1, 1, 1), (-1, 1, -1), (-1, -1, 1), (1, -1, -1)):
        middle = np.array([side * (width / 2.0 - corner), up * (radius - corner)])
        points.append((middle + corner * quarter * (side, up))[::order])
    return Outline(np.concatenate(points) + np.array([y, radius]), face, "white")


def _axle(half: float, radius: float) -> Outline:
    """The rear axle's housing."""
    thick = 0.1 * radius
    return Outline(_rectangle((-half, half), (radius - thick, radius + thick)), GREY, DARK_GREY)


def _bucket(fitted: Fitted) -> list[Outline]:
    """Outside of the bucket at its fitted height; nothing without a loader."""
    loader = fitted.machine.loader
    if loader is None:
        return []
    pin, half = pin_height(loader, fitted.outfit.bucket_height), loader.bucket_width / 2.0
    low, high = bucket_heights(fitted)
    return [Outline(_rectangle((-half, half), (pin + low, pin + high)), PALE_GREY, GREY)]
