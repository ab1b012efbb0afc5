"""Where a picture is seen and lit from: a stack of looks.

A look is four rows of four numbers. The first three, times (x, y, z, 1) of a point, give where it
is seen; the fourth is a place. For the camera: right, down and ahead [m], and its eye. For the sun
and the rays: right and down [samples] on their map, how near [m], and the middle of the map.
"""

from functools import lru_cache
from math import cos, pi, sin, tau

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

RAYS = 8  # directions in which contact shade is looked for
SUN_SIDE, SUN_REACH = 1024, 4.6  # samples along the sun's shadow map; [m] half its edge
RAY_SIDE, RAY_REACH = 224, 3.4  # the same for contact shade
RIGHT, DOWN, AHEAD, EYE = range(4)  # rows of a look
NEARNESS, MIDDLE = 2, 3  # of the sun's and the rays'
CAMERA, SUN, FIRST_RAY = 0, 1, 2  # looks of a stack


def facing(forward: Array) -> Array:
    """(3, 3) right, down and forward of a look along a unit vector, horizon level."""
    side = np.cross(forward, (0.0, 0.0, 1.0))
    if np.linalg.norm(side) < 1e-6:
        side = np.array([0.0, -1.0, 0.0])
    right = side / np.linalg.norm(side)
    return np.stack([right, np.cross(forward, right), forward])


def towards(bearing: float, elevation: float) -> Array:
    """(3,) unit vector; both [rad], bearing from x to y."""
    return np.array([cos(bearing) * cos(elevation), sin(bearing) * cos(elevation), sin(elevation)])


@lru_cache(maxsize=1)
def sky_axes() -> Array:
    """(RAYS, 3, 3) right, down and forward of the rays, from low and high in turn."""
    low, high = 0.14 * pi, 0.33 * pi
    ways = [towards(tau * k / RAYS + 0.2, (low, high)[k % 2]) for k in range(RAYS)]
    return np.stack([facing(-way) for way in ways])


def looks(camera: Array, sun: Array, middle: Array) -> Array:
    """(2 + RAYS, 4, 4) stack of looks in the order above.

    Args:
        camera: (4, 3) right, down, forward, eye [m].
        sun: (3,) unit vector towards it; middle: (3,) [m] what shadows are sharp around.
    """
    stack = np.zeros((2 + RAYS, 4, 4))
    stack[CAMERA, :, :3] = camera
    stack[CAMERA, :EYE, 3] = -camera[:EYE] @ camera[EYE]
    axes = facing(-sun)
    stack[SUN] = mapped(
        axes, snapped(middle, axes, SUN_SIDE / (2 * SUN_REACH)), SUN_SIDE, SUN_REACH
    )
    for k, axes in enumerate(sky_axes()):
        stack[FIRST_RAY + k] = mapped(axes, middle, RAY_SIDE, RAY_REACH)
    return stack


def mapped(axes: Array, middle: Array, side: int, reach: float) -> Array:
    """(4, 4) look along axes (3, 3) on a map of `side` samples, `reach` [m] about its middle."""
    look = np.zeros((4, 4))
    steps = np.array([side / (2 * reach), side / (2 * reach), -1.0])
    look[:3, :3] = steps[:, None] * axes
    look[:3, 3] = np.array([side / 2, side / 2, 0.0]) - look[:3, :3] @ middle
    look[MIDDLE, :3] = middle
    return look


def snapped(middle: Array, axes: Array, scale: float) -> Array:
    """(3,) the place moved to a whole sample, so that shadow edges do not crawl."""
    return np.asarray((np.rint(axes @ middle * scale) / scale) @ axes)
