"""What throws a shadow: some triangles of a mesh, with only the points that they need."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.shapes import Indices


@dataclass(frozen=True)
class Caster:
    """Triangles over their own points."""

    rows: Indices  # (j,) the points, as rows of the mesh's points
    triangles: Indices  # (k, 3) rows of `rows`


def caster(triangles: Indices, chosen: NDArray[np.bool_]) -> Caster:
    """The chosen ones (m,) of a mesh's triangles (m, 3)."""
    rows, places = np.unique(triangles[chosen], return_inverse=True)
    return Caster(rows.astype(np.int32), places.reshape(-1, 3).astype(np.int32))
