"""Where a picture is seen and lit from: a stack of looks, each four rows of three numbers."""

from math import cos, pi, sin, tau

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

RAYS = 8  # directions in which contact shade is looked for
SUN_SIDE, SUN_REACH = 1024, 4.6  # samples along the sun's shadow map; [m] half its edge
RAY_SIDE, RAY_REACH = 224, 3.4  # the same for contact shade
RIGHT, DOWN, FORWARD, EYE = range(4)  # rows of a look
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


def sky_directions() -> Array:
    """(RAYS, 3) unit vectors over the upper half, low and high in turn."""
    low, high = 0.14 * pi, 0.33 * pi
    return np.stack([towards(tau * k / RAYS + 0.2, (low, high)[k % 2]) for k in range(RAYS)])


def looks(camera: Array, sun: Array, middle: Array) -> Array:
    """(2 + RAYS, 4, 3) stack of looks in the order above.

    Args:
        camera: (4, 3) right, down, forward, eye [m].
        sun: (3,) unit vector towards it; middle: (3,) [m] what shadows are sharp around.
    """
    stack = np.empty((2 + RAYS, 4, 3))
    stack[CAMERA] = camera
    stack[SUN, :3] = facing(-sun)
    stack[SUN, EYE] = snapped(middle, stack[SUN, :3], SUN_SIDE / (2 * SUN_REACH))
    for k, direction in enumerate(sky_directions()):
        stack[FIRST_RAY + k, :3] = facing(-direction)
        stack[FIRST_RAY + k, EYE] = middle
    return stack


def snapped(middle: Array, axes: Array, scale: float) -> Array:
    """(3,) the place moved to a whole sample, so that shadow edges do not crawl."""
    return np.asarray((np.rint(axes @ middle * scale) / scale) @ axes)
