"""Tipping of a plane rigid body over one edge: the textbook case, for comparison.

For a machine with a pivoting front axle these overstate, threefold near its limit: `energy` has
the two-stage path.
"""

import numpy as np

from sidehill.statics.tipping import GRAVITY
from sidehill.statics.vector import Array, Real


def planar_energy(mass: Real, track: Real, height: Real, slope: Real) -> Array:
    """M g (r - h cos s - T/2 sin s), r = hypot(T/2, h) [J]; 0 past the balance.

    Args:
        mass: [kg]; track: [m] centre to centre; height: [m] of the CG; slope: [rad].
    """
    half = track / 2
    rise = np.hypot(half, height) - height * np.cos(slope) - half * np.sin(slope)
    return np.where(np.tan(slope) * height < half, mass * GRAVITY * rise, 0.0)


def edge_inertia(mass: Real, track: Real, height: Real, roll_inertia: Real) -> Real:
    """Inertia about the edge [kg m^2] from `roll_inertia` about the CG [kg m^2]."""
    return roll_inertia + mass * (track * track / 4 + height * height)


def planar_roll_rate(
    mass: Real, track: Real, height: Real, roll_inertia: Real, slope: Real
) -> Array:
    """Roll rate about the edge that just carries the body over [rad/s]."""
    energy = planar_energy(mass, track, height, slope)
    return np.sqrt(2 * energy / edge_inertia(mass, track, height, roll_inertia))


def planar_trip_speed(
    mass: Real, track: Real, height: Real, roll_inertia: Real, slope: Real
) -> Array:
    """Sideways speed that tips the body when its edge is caught [m/s].

    On the level: the critical sliding velocity of the NHTSA rollover work (formula from memory).
    """
    rate = planar_roll_rate(mass, track, height, roll_inertia, slope)
    return rate * edge_inertia(mass, track, height, roll_inertia) / (mass * height)
