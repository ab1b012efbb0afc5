"""Scenario -> ground arrays: features under this outfit's own wheels, and a relief."""

from math import cos, sin

import numpy as np

from sidehill.kernels.height import COLUMNS, PROFILES, Ground, X
from sidehill.kernels.layout import Vector
from sidehill.machine.fitted import Fitted
from sidehill.scenario.file import Scenario
from sidehill.scenario.ground import Feature
from sidehill.terrain.course import path_point
from sidehill.terrain.relief import build_relief

FLANK_SHARE = 0.2  # of the width, on each side, over which a feature fades out
ACROSS = 40.0  # [m] width of what lies right across the course


def lateral_places(feature: Feature, scenario: Scenario, rear_track: float) -> tuple[float, ...]:
    """[m] to the left of the path: where the feature's copies are centred."""
    if feature.width is None:
        return (0.0,)
    if feature.y is not None:
        return (feature.y,)
    up = scenario.ground.uphill * rear_track / 2.0
    return {"uphill": (up,), "downhill": (-up,)}.get(feature.wheels or "", (up, -up))


def laid(scenario: Scenario, fitted: Fitted) -> list[tuple[tuple[float, ...], Feature]]:
    """Rows of the features' copies for one outfit, in the order of their x, and whose they are."""
    rows = [
        (_row(feature, *path_point(scenario, feature.at, left)), feature)
        for feature in scenario.feature
        for left in lateral_places(feature, scenario, fitted.rear_track)
    ]
    return sorted(rows, key=lambda item: item[0][X])  # stable


def feature_rows(scenario: Scenario, fitted: Fitted) -> Vector:
    """(n, COLUMNS) feature array of a scenario for one outfit, in the order of their x.

    Ground that gives way lies as deep as it will in the end; a run sets its depth at every step.
    """
    rows = [row for row, _ in laid(scenario, fitted)]
    return np.array(rows, dtype=np.float64).reshape(-1, COLUMNS)


def flank(feature: Feature) -> float:
    """[m] over which a feature fades out, on each side."""
    width = ACROSS if feature.width is None else feature.width
    if feature.kind.edge is not None:
        return min(feature.kind.edge, width / 2.0, feature.extent / 2.0)
    return FLANK_SHARE * width


def _row(feature: Feature, x: float, y: float, heading: float) -> tuple[float, ...]:
    width = ACROSS if feature.width is None else feature.width
    return (
        PROFILES[feature.kind.profile], x, y, cos(heading), sin(heading),
        feature.extent / 2.0, width / 2.0, flank(feature), feature.top,
    )  # fmt: skip


def build_ground(scenario: Scenario, fitted: Fitted) -> Ground:
    """The ground arrays of a scenario for one outfit."""
    return Ground(feature_rows(scenario, fitted), *build_relief(scenario))
