"""The ground's height by the same kernel that the tyres roll on."""

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.compile import kernel
from sidehill.kernels.height import Ground, height

Array = NDArray[np.float64]


@kernel
def relief(x: Array, y: Array, ground: Ground, out: Array) -> None:
    """Heights [m] at places x, y (n,) [m] of the hillside plane, into `out` (n,)."""
    for i in range(x.shape[0]):
        out[i] = height(x[i], y[i], ground)
