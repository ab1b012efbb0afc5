"""What of the ground is held on a grid: roughness, or heights of one's own."""

import numpy as np

from sidehill.kernels.layout import Vector
from sidehill.scenario.file import Scenario
from sidehill.terrain.course import way
from sidehill.terrain.heights import heights_relief
from sidehill.terrain.roughness import Rough, rough_relief


def build_relief(scenario: Scenario) -> tuple[Vector, Vector]:
    """Spline coefficients of the relief and their place, as in `Ground`; empty if smooth."""
    ground = scenario.ground
    if scenario.heights is not None:
        relief, place = heights_relief(scenario.heights, way(scenario))
    elif ground.roughness > 0.0:
        rough = Rough(ground.roughness, ground.seed, ground.coherence)
        relief, place = rough_relief(rough, way(scenario))
    else:
        return np.zeros((0, 0)), np.zeros(3)
    return relief.copy(), place.copy()
