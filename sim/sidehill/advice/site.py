"""The ground that advice is given for."""

from dataclasses import dataclass

import numpy as np

from sidehill.scenario.ground import Ground
from sidehill.statics.assembly import Side
from sidehill.statics.vector import downward


@dataclass(frozen=True)
class Site:
    """A slope to stand on, and the steepest grade met while working there."""

    slope: float = 0.0  # [rad] side slope
    grade: float = 0.0  # [rad] along the heading, nose up positive
    steepest_grade: float = 0.0  # [rad] 0 or more, met both nose up and nose down
    downhill: Side = "right"

    @classmethod
    def of(cls, ground: Ground, steepest_grade: float = 0.0) -> "Site":
        """The ground of a scenario; its own grade is met at least."""
        steepest = max(abs(ground.grade), steepest_grade)
        return cls(ground.slope, ground.grade, steepest, ground.downhill)

    @property
    def square_share(self) -> float:
        """Part of a weight that acts square to the ground."""
        return -float(np.asarray(downward(self.slope, self.grade).z))
