"""The sky, the far hills and the haze between."""

from math import atan2, sin, sqrt

from sidehill.film.render.compile import kernel

Colour = tuple[float, float, float]

HAZE = (0.86, 0.93, 1.0)  # what everything far away fades to
ZENITH = (0.12, 0.36, 0.86)
CLEAR, THINNING = 8.0, 600.0  # [m] without haze; [m] over which it takes half of the rest


@kernel
def far_hill(bearing: float) -> float:
    """Elevation of the far hills, as a sine of the angle above the horizon."""
    return 0.030 + 0.012 * sin(3.0 * bearing + 0.4) + 0.007 * sin(7.0 * bearing + 1.3)


@kernel
def near_hill(bearing: float) -> float:
    """The same of the nearer, wooded ones."""
    wood = 0.0015 * sin(61.0 * bearing) + 0.001 * sin(143.0 * bearing + 0.5)
    return 0.013 + 0.006 * sin(5.0 * bearing + 2.0) + 0.004 * sin(11.0 * bearing) + wood


@kernel
def dome(z: float) -> Colour:
    """The sky at a sine of the elevation."""
    s = min(sqrt(max(z, 0.0)) * 1.15, 1.0)
    return (
        HAZE[0] + s * (ZENITH[0] - HAZE[0]),
        HAZE[1] + s * (ZENITH[1] - HAZE[1]),
        HAZE[2] + s * (ZENITH[2] - HAZE[2]),
    )


@kernel
def backdrop(x: float, y: float, z: float) -> Colour:
    """Colour seen along a unit direction, z up, where nothing stands in the way."""
    if z > 0.06:
        return dome(z)
    bearing = atan2(y, x)
    if z < near_hill(bearing):
        return 0.17, 0.27, 0.20
    if z < far_hill(bearing):
        return 0.38, 0.50, 0.54
    return dome(z)


@kernel
def veiled(red: float, green: float, blue: float, distance: float) -> Colour:
    """A colour seen through the haze over a distance [m]."""
    beyond = max(distance - CLEAR, 0.0)
    s = beyond / (beyond + THINNING)
    return red + s * (HAZE[0] - red), green + s * (HAZE[1] - green), blue + s * (HAZE[2] - blue)
