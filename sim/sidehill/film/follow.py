"""The smooth path of a camera that follows a machine: bumps and bounces stay to be seen."""

import numpy as np
from scipy.ndimage import gaussian_filter1d
from scipy.spatial.transform import Rotation

from sidehill.film.render.shapes import Array
from sidehill.film.take import Take

MIDDLE = 0.8  # [m] above its ground, of the machine
SOFTNESS = 0.4  # [s] over which the machine's way is smoothed


def path_of(take: Take, wheelbase: float) -> Array:
    """(n, 4) over the take: x, y [m] of the machine's middle and the cosine and sine of its
    heading, all in the hillside plane."""
    chassis = take.links.index("chassis")
    turns = Rotation.from_quat(take.turns[:, chassis])
    forward = turns.apply((1.0, 0.0, 0.0))[:, :2]
    forward /= np.linalg.norm(forward, axis=1, keepdims=True)
    middle = take.places[:, chassis, :2] + turns.apply((0.5 * wheelbase, 0.0, MIDDLE))[:, :2]
    row = float(np.median(np.diff(take.times)))
    smooth = gaussian_filter1d(np.hstack([middle, forward]), SOFTNESS / row, axis=0, mode="nearest")
    return np.asarray(smooth)
