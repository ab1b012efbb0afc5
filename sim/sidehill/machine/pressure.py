"""Vertical stiffness of a tyre from its size, pressure and age: what an owner knows of it.

Rolling stiffness [kN/m] = 172 - 1.77 R + 5.6 A + 0.34 W R P, rim diameter R and section width W
in inches, age A in years, pressure P in bar (Lines and Murphy 1991, J. Terramechanics 28(1),
49-64; values from memory). It scatters by about 20 %; the smallest rims of the fit are not known.
"""

from sidehill.machine.file import Machine, Tyre
from sidehill.machine.liquid import rim_radius
from sidehill.machine.outfit import Outfit

INCH, BAR, YEAR = 0.0254, 1e5, 365.25 * 86400.0  # [m], [Pa], [s]
LEVEL, BY_RIM, BY_AGE = 172e3, -1.77e3 / INCH, 5.6e3 / YEAR  # [N/m], by [m], by [s]
BY_PRESSURE = 0.34e3 / INCH**2 / BAR  # [N/m] by width [m] times rim diameter [m] times [Pa]


def by_pressure(tyre: Tyre) -> float:
    """[N/m / Pa] how much stiffer a tyre is by its pressure."""
    return BY_PRESSURE * tyre.width * 2.0 * rim_radius(tyre)


def usual_stiffness(tyre: Tyre, pressure: float) -> float:
    """[N/m] of a tyre of that size and age at a pressure [Pa]; without an age: new."""
    size = LEVEL + BY_RIM * 2.0 * rim_radius(tyre) + BY_AGE * (tyre.age or 0.0)
    return size + by_pressure(tyre) * pressure


def stiffness_at(tyre: Tyre, pressure: float | None = None) -> float:
    """[N/m] at a pressure [Pa], or at the file's own.

    A stiffness in the file was measured at the file's own pressure, and changes from there by
    the pressure term alone; without one it is what is usual for size, age and pressure.
    """
    own = tyre.pressure
    if tyre.stiffness is None:
        return usual_stiffness(tyre, pressure or own or 0.0)
    if pressure is None or own is None:
        return tyre.stiffness
    return tyre.stiffness + by_pressure(tyre) * (pressure - own)


def stiffnesses(machine: Machine, outfit: Outfit) -> tuple[float, float]:
    """[N/m] of a front and a rear tyre at the outfit's pressures."""
    return (
        stiffness_at(machine.front_tyre, outfit.front_pressure),
        stiffness_at(machine.rear_tyre, outfit.rear_pressure),
    )
