"""What tipping depends on: two lumps, a pivot pin and four ground contacts."""

from dataclasses import dataclass, field, replace

import numpy as np

from sidehill.statics.vector import Array, Real, Vector

GRAVITY = 9.81  # [m/s^2]
_MIRROR = np.diag([1.0, -1.0, 1.0])


def _unknown() -> Array:
    return np.full((3, 3), np.nan)


@dataclass(frozen=True)
class Tipping:
    """One machine, or a sweep of them: every field is a float or an array, and they broadcast.

    Body B is everything that rolls with the chassis; the front axle assembly A hangs on the pin
    at (wheelbase, 0, pin_height), whose axis is x, with its CG straight below or above the pin.
    Axes as the machine's (x forward, z up, origin on the ground below the rear axle centre) with
    y toward uphill, whichever side that is: the downhill contacts are at negative y. Long sweeps
    are fastest in blocks of about 2,000 machines, whose arrays stay in the cache.
    """

    mass: Real  # [kg] of B
    x: Real  # [m] CG of B, ahead of the rear axle
    y: Real  # [m] CG of B, toward uphill
    h: Real  # [m] CG of B, above ground
    axle_mass: Real  # [kg] of A
    axle_h: Real  # [m] CG of A, above ground
    wheelbase: Real  # [m]
    pin_height: Real  # [m]
    rear_track: Real  # [m] centre to centre
    front_track: Real  # [m] centre to centre
    swing: Real  # [rad] each way, to the axle stop
    inertia: Array = field(default_factory=_unknown)  # (..., 3, 3) [kg m^2] of B about its CG

    @property
    def whole_mass(self) -> Real:
        """[kg] of B and A."""
        return self.mass + self.axle_mass

    @property
    def whole_cg(self) -> Vector:
        """[m] CG of B and A together, these axes."""
        b, a, whole = self.mass, self.axle_mass, self.whole_mass
        return Vector(
            (b * self.x + a * self.wheelbase) / whole,
            b * self.y / whole,
            (b * self.h + a * self.axle_h) / whole,
        )

    def mirrored(self) -> "Tipping":
        """The same machine with its other side downhill."""
        return replace(self, y=-self.y, inertia=_MIRROR @ self.inertia @ _MIRROR)
