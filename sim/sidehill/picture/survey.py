"""The ground of a case as a surveyor plots it: places, heights, wheel tracks, a wheel at rest."""

from dataclasses import dataclass

import numpy as np

from sidehill.case import Case
from sidehill.flat import flatten
from sidehill.kernels.height import Ground, height
from sidehill.kernels.layout import Vector
from sidehill.machine.fitted import Fitted
from sidehill.scenario.file import Scenario
from sidehill.terrain.build import lateral_places
from sidehill.terrain.course import path_point

_STEPS = 400  # places under a wheel at which the ground may hold it
_STATIONS = 200  # along the course: enough for a smooth line


@dataclass(frozen=True)
class Survey:
    """A scenario's ground for one outfit, by the height that the tyres roll on."""

    scenario: Scenario
    fitted: Fitted
    ground: Ground
    notes: tuple[str, ...]  # defaults, estimates, and how far front tyres meet the features

    @property
    def length(self) -> float:
        """[m] of the course; 0 on a tilt table."""
        return self.scenario.course.length or 0.0

    @property
    def stations(self) -> Vector:
        """(n,) [m] path lengths from start to end."""
        return np.linspace(0.0, self.length, _STATIONS)

    @property
    def sides(self) -> dict[str, float]:
        """[m] to the left of the path of the rear wheels, by their side at the start."""
        up = self.scenario.ground.uphill * self.fitted.rear_track / 2.0
        return {"uphill": up, "downhill": -up}

    def way(self, along: Vector, left: float) -> Vector:
        """(n, 2) [m] world x, y at path lengths (n,) [m] and an offset to the left [m]."""
        return np.array([path_point(self.scenario, s, left)[:2] for s in along])

    def front_way(self, along: Vector, left: float) -> Vector:
        """(n, 2) [m] world x, y of a front wheel while the rear axle centre goes the path."""
        ahead = self.fitted.machine.body.wheelbase
        x, y, heading = np.array([path_point(self.scenario, s, 0.0) for s in along]).T
        cosine, sine = np.cos(heading), np.sin(heading)
        return np.column_stack(
            [x + ahead * cosine - left * sine, y + ahead * sine + left * cosine]
        )  # fmt: skip

    def heights(self, points: Vector) -> Vector:
        """(...) [m] off the plane of the slope at world places (..., 2) [m]."""
        found = [height(x, y, self.ground) for x, y in points.reshape(-1, 2)]
        return np.array(found).reshape(points.shape[:-1])

    def places(self, number: int) -> tuple[float, ...]:
        """[m] to the left of the path of a feature's copies; features count from 0."""
        feature = self.scenario.feature[number]
        return lateral_places(feature, self.scenario, self.fitted.rear_track)

    def resting(self, along: float, left: float) -> float:
        """[m] of a rigid rear wheel's centre off the plane, standing at that path length."""
        radius = self.fitted.machine.rear_tyre.radius
        reach = np.linspace(-radius, radius, _STEPS + 1)
        under = self.heights(self.way(along + reach, left))
        return float(np.max(under + np.sqrt(radius**2 - reach**2)))


def survey(case: Case) -> Survey:
    """The survey of a case.

    Raises:
        InputError: the course does not suit the machine in its outfit.
    """
    flat = flatten(case)
    return Survey(case.scenario, flat.fitted, flat.ground, flat.notes)
