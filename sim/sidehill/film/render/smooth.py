"""Shading normals across neighbouring facets, so that a ring of boxes looks round."""

import numpy as np

from sidehill.film.render.shapes import Array, Indices

CREASE = 0.86  # cosine of the sharpest edge that is smoothed over, 31 deg
GRID = 2e-4  # [m] corners nearer than this are one


def smoothed(points: Array, normals: Array, link_of: Indices, skin: Indices) -> Array:
    """(n, 3) normals; corners of one link and material that meet at a blunt edge share theirs.

    Args:
        points: (n, 3) [m]; normals: (n, 3); link_of, skin: (n,) link and material of each.
    """
    cells = np.concatenate([np.rint(points / GRID), link_of[:, None], skin[:, None]], axis=1)
    _, group = np.unique(cells.astype(np.int64), axis=0, return_inverse=True)
    order = np.argsort(group.ravel(), kind="stable")
    ends = np.flatnonzero(np.diff(group.ravel()[order])) + 1
    result = normals.copy()
    for members in np.split(order, ends):
        if len(members) > 1:
            meeting = normals[members]
            near = meeting @ meeting.T > CREASE
            result[members] = near @ meeting
    return np.asarray(result / np.linalg.norm(result, axis=1, keepdims=True))
