"""The piece of ground that a plan shows, and how it fills the paper."""

from dataclasses import dataclass

import numpy as np

from sidehill.picture.survey import Survey

AROUND, SHARE = 0.9, 0.075  # [m] of ground around everything, and share of the width


@dataclass(frozen=True)
class View:
    """A rectangle of the hillside plane."""

    x: tuple[float, float]  # [m]
    y: tuple[float, float]  # [m]

    @property
    def size(self) -> tuple[float, float]:
        """[m] along x and y."""
        return self.x[1] - self.x[0], self.y[1] - self.y[0]

    def stretched(self, aspect: float) -> "View":
        """The smallest view about the same middle whose height over width is `aspect`."""
        wide, high = self.size
        half_wide, half_high = max(wide, high / aspect) / 2.0, max(high, wide * aspect) / 2.0
        x, y = sum(self.x) / 2.0, sum(self.y) / 2.0
        return View((x - half_wide, x + half_wide), (y - half_high, y + half_high))


def view_of(survey: Survey) -> View:
    """What must be seen: the way of all wheels, and features at a fixed place."""
    machine = survey.fitted.machine
    rear = survey.fitted.rear_track / 2.0 + machine.rear_tyre.width / 2.0
    front = survey.fitted.front_track / 2.0 + machine.front_tyre.width / 2.0
    seen = [survey.way(survey.stations, side * rear) for side in (-1.0, 1.0)]
    seen += [survey.front_way(survey.stations, side * front) for side in (-1.0, 1.0)]
    for feature in survey.scenario.feature:
        if feature.y is not None and feature.width is not None:
            half = feature.width / 2.0
            edges = (feature.y - half, feature.y + half)
            seen += [survey.way(np.array([feature.at]), edge) for edge in edges]
    points = np.concatenate(seen)
    around = max(AROUND, SHARE * float(np.ptp(points[:, 0])))
    (x0, y0), (x1, y1) = points.min(axis=0) - around, points.max(axis=0) + around
    return View((float(x0), float(x1)), (float(y0), float(y1)))
