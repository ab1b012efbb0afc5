"""What is drawn: one mesh, each vertex in the frame of its link."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sidehill.film.render.finish import finish
from sidehill.film.render.shapes import Array, Indices
from sidehill.film.render.smooth import smoothed


@dataclass(frozen=True)
class Piece:
    """A surface of one finish on one link."""

    link: str
    material: str  # a name that `finish` knows, or any
    colour: tuple[float, float, float]  # red, green, blue from 0 to 1, as seen on a screen
    points: Array  # (n, 3) [m] link frame
    normals: Array  # (n, 3)
    triangles: Indices  # (m, 3) rows of points; corners run anticlockwise seen from outside
    ground: Array | None = None  # (n, 3) for grass: places [m] on the ground, bareness 0 to 1


@dataclass(frozen=True)
class Model:
    """All pieces in one mesh."""

    links: tuple[str, ...]  # names; the order of `link_of`
    points: Array  # (n, 3) [m] link frame
    normals: Array  # (n, 3) link frame
    ground: Array  # (n, 3) for grass: places [m] on the ground, bareness 0 to 1
    link_of: Indices  # (n,) link of each point
    triangles: Indices  # (m, 3) rows of points
    finish_of: Indices  # (m,) row of `finishes` of each triangle
    finishes: Array  # (k, 6) columns as in `shade`
    bulky: Indices  # (j,) triangles that give contact shade


BULKY = 1e-3  # [m^2] smaller triangles are too small for the maps of contact shade


def join(pieces: Sequence[Piece]) -> Model:
    """One mesh of many pieces; neighbours of one link and material are smoothed into each other."""
    links = tuple(dict.fromkeys(piece.link for piece in pieces))
    skins = list(dict.fromkeys((piece.material, piece.colour) for piece in pieces))
    sizes = [len(piece.points) for piece in pieces]
    counts = [len(piece.triangles) for piece in pieces]
    starts = np.cumsum([0, *sizes[:-1]])
    skin = [skins.index((piece.material, piece.colour)) for piece in pieces]
    link_of = np.repeat([links.index(piece.link) for piece in pieces], sizes)
    points = np.concatenate([piece.points for piece in pieces])
    normals = np.concatenate([piece.normals for piece in pieces])
    triangles = np.concatenate([p.triangles + s for p, s in zip(pieces, starts, strict=True)])
    places = [np.zeros((len(p.points), 3)) if p.ground is None else p.ground for p in pieces]
    return Model(
        links=links,
        points=points,
        normals=smoothed(points, normals, link_of, np.repeat(skin, sizes)),
        ground=np.concatenate(places),
        link_of=link_of.astype(np.int32),
        triangles=triangles.astype(np.int32),
        finish_of=np.repeat(skin, counts).astype(np.int32),
        finishes=np.array([finish(*item) for item in skins]),
        bulky=bulky(points, triangles, np.repeat([p.ground is not None for p in pieces], counts)),
    )


def bulky(points: Array, triangles: Indices, is_ground: Array) -> Indices:
    """(j,) triangles worth drawing for contact shade: not the ground, which would shade itself."""
    sides = points[triangles][:, 1:] - points[triangles][:, :1]
    areas = np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1) / 2
    return np.flatnonzero((areas > BULKY) & np.logical_not(is_ground)).astype(np.int32)
