"""Heights of one's own -> the grid of spline coefficients that the kernels know."""

from functools import lru_cache
from math import ceil

import numpy as np
from scipy.ndimage import spline_filter

from sidehill.kernels.layout import Vector
from sidehill.scenario.heights import FADE, Heights
from sidehill.terrain.course import Way

HELD = 2.0  # [m] beyond the outermost profiles, before the ground goes over to the plane
KEPT = 4  # of them; one may take tens of megabytes


@lru_cache(maxsize=KEPT)
def heights_relief(heights: Heights, way: Way) -> tuple[Vector, Vector]:
    """Spline coefficients and their place, as in `Ground`; every height lies on a node.

    Args:
        way: straight, so that path length is x and an offset to the left is y.
    """
    (x_low, x_high), (y_low, y_high) = way.box()
    step, right, left = heights.grid, heights.across[0], heights.across[-1]
    far = HELD + FADE
    x = _nodes(
        heights.start, min(x_low, heights.start - FADE), max(x_high, heights.end + FADE), step
    )
    y = _nodes(right, min(y_low, right - far), max(y_high, left + far), step)
    along = heights.start + heights.spacing * np.arange(heights.count)
    rows = np.array([np.interp(x, along, row) for row in heights.height])
    weights = np.array([np.interp(y, heights.across, one) for one in np.eye(len(rows))])
    height = weights.T @ rows
    height *= _share(x, heights.start, heights.end)
    height *= _share(y, right - HELD, left + HELD)[:, None]
    return spline_filter(height, order=3), np.array([x[0], y[0], 1.0 / step])


def _nodes(anchor: float, low: float, high: float, step: float) -> Vector:
    """Evenly from below `low` to above `high`, one of them on the anchor."""
    below, above = ceil((anchor - low) / step) + 2, ceil((high - anchor) / step) + 2
    return np.asarray(anchor + step * np.arange(-below, above + 1))


def _share(at: Vector, low: float, high: float) -> Vector:
    """1 between low and high, smoothly to 0 over FADE beyond."""
    inside = np.clip(1.0 - np.maximum(low - at, at - high) / FADE, 0.0, 1.0)
    return np.asarray(inside * inside * (3.0 - 2.0 * inside))
