"""The smallest setting that reaches a wanted slope, for any slope that follows from a setting."""

from collections.abc import Callable
from math import isfinite, pi

import numpy as np
from scipy.optimize import brentq

_NO_SLOPE = -pi / 2  # [rad] stands for a setting at which the machine has no slope at all


def smallest_setting(
    slope_of: Callable[[float], float],
    wanted: float,
    most: float,
    tolerance: float,
    scan: int = 9,
) -> tuple[float | None, float]:
    """The smallest setting from 0 to `most` with `slope_of(setting) >= wanted`, and its slope.

    A scan finds the first rise through the wanted slope, a root search narrows it (Brent's method,
    scipy) to the tolerance, and the end that reaches the wanted slope is taken. More need not be
    steeper everywhere: a rise and fall within one spacing of the scan is not seen.

    Args:
        slope_of: [rad] of a setting [SI], NaN where there is none; may be a simulated limit.
        wanted: [rad]; most, tolerance: [SI] of the setting; scan: settings of the grid.

    Returns:
        The setting and its slope; if none reaches it, None and the steepest slope of the scan
        (NaN if there is none).
    """
    slopes: dict[float, float] = {}

    def excess(setting: float) -> float:
        if setting not in slopes:
            slope = float(slope_of(setting))
            slopes[setting] = slope if isfinite(slope) else _NO_SLOPE
        return slopes[setting] - wanted

    grid = [float(setting) for setting in np.linspace(0.0, most, scan)]
    first = next((k for k, setting in enumerate(grid) if excess(setting) >= 0.0), None)
    if first is None:
        best = max(slopes.values())
        return None, best if best > _NO_SLOPE else float("nan")
    if first > 0:
        brentq(excess, grid[first - 1], grid[first], xtol=tolerance)
    setting = min(setting for setting, slope in slopes.items() if slope >= wanted)
    return setting, slopes[setting]
