"""Corners and rims that can meet the ground in a fall, from the plain shapes of the URDF."""

from itertools import product
from math import cos, pi, sin

import numpy as np

from sidehill.flat.model import homes
from sidehill.kernels.layout import TOUCHING, Vector
from sidehill.machine.fitted import Array, Fitted
from sidehill.machine.linkage import Link
from sidehill.urdf.collision import collisions
from sidehill.urdf.piece import Box, Cylinder, Piece

RIM_POINTS = 16  # around each edge of a tyre
_PARTS = {"tyre": "wheel", "post left": "roll bar", "post right": "roll bar"}
_PARTS |= {"cross bar": "roll bar"}


def contact_points(fitted: Fitted, links: tuple[Link, ...], moving: tuple[str, ...]) -> Vector:
    """(n, 5) body number, place [m] in the body's frame, and number of the part."""
    rows: list[tuple[float, ...]] = []
    found = homes(links)
    for link, pieces in collisions(fitted).items():
        for piece in pieces:
            home = found[link]
            body = moving.index(home.carrier)
            part = TOUCHING.index(_PARTS.get(piece.name, piece.name))
            for point in _outline(piece):
                rows.append((body, *(home.place + home.turn @ point), part))
    return np.array(rows, dtype=np.float64)


def _outline(piece: Piece) -> list[Array]:
    """Corners of an upright box, or the two rims of a cylinder whose axle is y."""
    if isinstance(piece.shape, Box):
        half = np.array(piece.shape.size) / 2.0
        return [piece.place + half * np.array(signs) for signs in product((-1, 1), repeat=3)]
    assert isinstance(piece.shape, Cylinder)
    radius, half_width = piece.shape.radius, piece.shape.length / 2.0
    turns = [2.0 * pi * k / RIM_POINTS for k in range(RIM_POINTS)]
    return [
        piece.place + np.array([radius * cos(turn), side * half_width, radius * sin(turn)])
        for side in (-1, 1)
        for turn in turns
    ]
