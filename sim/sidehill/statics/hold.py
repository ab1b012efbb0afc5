"""How steep a ground a parked machine is held on by friction and brakes."""

import numpy as np

from sidehill.statics.flaw import masked
from sidehill.statics.tipping import GRAVITY, Tipping
from sidehill.statics.vector import Array, Real


def slide_slope(friction: Real) -> Array:
    """Side slope at which a parked machine slides [rad]: an upper bound, no drive, no bumps."""
    return np.arctan(np.asarray(friction, dtype=np.float64))


def grade_hold(
    tipping: Tipping, friction: Real, brakes: str = "rear", brake_force: Real = np.inf
) -> Array:
    """Steepest grade, without side slope, on which the brakes hold the machine [rad].

    The smaller of nose up and nose down: friction gives way nose down, where the braked rear axle
    is unloaded; and never past the grade at which the machine tips over an axle. NaN where flawed.

    Args:
        friction: tyre on ground.
        brakes: "rear" or "all": the axles that are braked.
        brake_force: [N] the brakes' own limit at the ground.
    """
    cg, wheelbase = tipping.whole_cg, tipping.wheelbase
    if brakes == "all":
        friction_tan = friction
    else:
        friction_tan = friction * (wheelbase - cg.x) / (wheelbase + friction * cg.z)
    upright_tan = np.minimum(cg.x, wheelbase - cg.x) / cg.z
    brake = np.arcsin(np.minimum(brake_force / (GRAVITY * tipping.whole_mass), 1.0))
    return masked(np.minimum(np.arctan(np.minimum(friction_tan, upright_tan)), brake), tipping)
