"""The flat arrays that the kernels of shading read and write."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.texture import Texels

Array = NDArray[np.float64]
Indices = NDArray[np.int32]
Nearness = NDArray[np.float32]
Flags = NDArray[np.bool_]


class Mesh(NamedTuple):
    """What stands where at one time."""

    seen: Array  # (n, 3) [m] right, down and ahead of the camera
    normals: Array  # (n, 3) unit vectors, level frame
    ground: Array  # (n, 3) for grass: places [m] on the ground, bareness 0 to 1
    triangles: Indices  # (m, 3) rows of points
    finish_of: Indices  # (m,) row of `finishes` of each triangle
    finishes: Array  # (k, 6) columns as in `finish`
    is_flat: Flags  # (m,) whether a triangle stands for a whole plane


class Light(NamedTuple):
    """What it is seen from and lit by."""

    looks: Array  # (2 + RAYS, 4, 4) as in `light`
    focal: float  # [samples] distance of the picture
    sun_map: Nearness  # (1, SUN_SIDE, SUN_SIDE)
    ray_maps: Nearness  # (RAYS, RAY_SIDE, RAY_SIDE)
    texels: Texels  # of grass
    hills: Array  # as `sky.skyline`
    wet: float  # 0 to 1, of the grass


class Faces(NamedTuple):
    """What is found out about a face once it is seen."""

    known: Flags  # (m,) whether `plans` holds it
    plans: Array  # (m, PLAN) as in `plan`


class Block(NamedTuple):
    """What is written on the way to the pixels of one block."""

    names: Indices  # (16,) faces that it sees
    spots: Array  # (16, 4) their samples: mean right, down and nearness, count
    cover: Array  # (16, 4) samples of each in each pixel
    tint: Array  # (3, 7) of a face, as in `shade`
    lie: Array  # (10,) of a face, as in `shade`
    sums: Array  # (4, 3) light of the pixels
