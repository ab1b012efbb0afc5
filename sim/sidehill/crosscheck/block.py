"""A rigid block that rocks from edge to edge: free rocking has a textbook answer."""

from dataclasses import dataclass
from math import acosh, atan2, hypot, sin, sqrt

from scipy.integrate import quad

from sidehill.statics.tipping import GRAVITY


@dataclass(frozen=True)
class RockingBlock:
    """A plane block on its base.

    `shape` is the inertia about an edge over mass times half-diagonal squared: 2 for four equal
    corner masses, 4/3 for a uniform block.
    """

    half_width: float  # [m]
    half_height: float  # [m]
    shape: float

    @property
    def tip_angle(self) -> float:
        """[rad] from upright to balance on an edge."""
        return atan2(self.half_width, self.half_height)

    @property
    def _rate(self) -> float:
        """[rad/s] of growth near the balance: sqrt(M g R / I0)."""
        return sqrt(GRAVITY / (self.shape * hypot(self.half_width, self.half_height)))

    def slender_quarter_period(self, released: float) -> float:
        """[s] from rest at `released` [rad] to upright, angles taken small: Housner's formula.

        acosh(1 / (1 - released / tip angle)) / rate (Housner 1963).
        """
        return acosh(1 / (1 - released / self.tip_angle)) / self._rate

    def quarter_period(self, released: float) -> float:
        """[s] the same, exact: quadrature of the energy balance."""
        lean = self.tip_angle - released

        def pace(u: float) -> float:  # the block is u^2 from its release: that takes the pole away
            fallen = 2 * sin(lean + u * u / 2) * sin(u * u / 2)
            return 2 * u / sqrt(2 * fallen)

        seconds, _ = quad(pace, 0.0, sqrt(released), epsabs=1e-12, epsrel=1e-10)
        return float(seconds) / self._rate
