"""Triangles of one plane as one face: what they look like does not depend on which is asked."""

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.shapes import Array, Indices

ALIKE = 1e-6  # by which unit normals, and heights [m], may differ within a plane


def plane_faces(
    points: Array, normals: Array, bare: Array, triangles: Indices, kind: Indices
) -> tuple[Indices, NDArray[np.bool_]]:
    """The face of each triangle: a row of triangles that stands for all of its plane.

    A triangle whose corners' normals are square to it, without worn ground, is flat; the largest
    of a plane stands for all of the same kind. Any other stands for itself.

    Args:
        points, normals: (n, 3); bare: (n,) 0 to 1; kind: (m, k) what a face has in common.

    Returns (m,) faces and (m,) whether a triangle is flat.
    """
    corners = points[triangles]
    square = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(square, axis=1)
    unit = square / np.maximum(area, np.finfo(float).tiny)[:, None]
    is_flat = (np.abs(normals[triangles] - unit[:, None]).max(axis=(1, 2)) < ALIKE) & (
        bare[triangles].max(axis=1) == 0.0
    )
    flat = np.flatnonzero(is_flat)
    height = np.einsum("ij,ij->i", unit[flat], corners[flat, 0])
    plane = np.rint(np.column_stack([unit[flat], height]) / ALIKE).astype(np.int64)
    _, group = np.unique(np.column_stack([plane, kind[flat]]), axis=0, return_inverse=True)
    largest_last = np.argsort(area[flat], kind="stable")
    stands = np.zeros(len(flat), np.int64)
    stands[group.ravel()[largest_last]] = flat[largest_last]
    faces = np.arange(len(triangles))
    faces[flat] = stands[group.ravel()]
    return faces.astype(np.int32), is_flat
