"""What is drawn: one mesh, each vertex in the frame of its link."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.caster import Caster, caster
from sidehill.film.render.faces import plane_faces
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
    faces: Indices  # (m,) the triangle that stands for each, and for all of its plane
    is_flat: NDArray[np.bool_]  # (m,) whether a triangle and its plane are one
    against_sun: Caster  # what throws a shadow
    against_sky: Caster  # what gives contact shade


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
    ground = np.concatenate(places)
    smooth = smoothed(points, normals, link_of, np.repeat(skin, sizes))
    kind = np.column_stack([link_of[triangles[:, 0]], np.repeat(skin, counts)])
    faces, is_flat = plane_faces(points, smooth, ground[:, 2], triangles, kind)
    is_ground = np.repeat([piece.ground is not None for piece in pieces], counts)
    return Model(
        links=links,
        points=points,
        normals=smooth,
        ground=ground,
        link_of=link_of.astype(np.int32),
        triangles=triangles.astype(np.int32),
        finish_of=np.repeat(skin, counts).astype(np.int32),
        finishes=np.array([finish(*item) for item in skins]),
        faces=faces,
        is_flat=is_flat,
        # a plain bank shades nothing: whatever lies behind it from the sun lies under it
        against_sun=caster(triangles, ~(is_ground & is_flat)),
        against_sky=caster(triangles, ~is_ground & (areas(points, triangles) > BULKY)),
    )


def areas(points: Array, triangles: Indices) -> Array:
    """(m,) [m^2] of triangles."""
    sides = points[triangles][:, 1:] - points[triangles][:, :1]
    return np.asarray(np.linalg.norm(np.cross(sides[:, 0], sides[:, 1]), axis=1) / 2)
