"""Scenario features -> rows of the feature array, each under this outfit's own wheels."""

from math import cos, sin

import numpy as np

from sidehill.layout import Vector
from sidehill.machine.fitted import Fitted
from sidehill.scenario.file import Scenario
from sidehill.scenario.ground import Feature
from sidehill.terrain.height import COLUMNS, HUMP, LOG

FLANK_SHARE = 0.2  # of the width, on each side, over which a feature fades out
ACROSS = 40.0  # [m] width of what lies right across the course
PROFILES = {"bump": HUMP, "hole": HUMP, "ridge": HUMP, "log": LOG}


def turn_curvature(scenario: Scenario) -> float:
    """[1/m] of the course's turn, left positive; 0 on a straight course."""
    course = scenario.course
    if course.radius is None:
        return 0.0
    return course.turn * scenario.ground.uphill / course.radius


def path_point(scenario: Scenario, along: float, left: float) -> tuple[float, float, float]:
    """World x, y [m] and heading [rad] at a path length and an offset to the left [m]."""
    bend, start = turn_curvature(scenario), scenario.course.after or 0.0
    if bend == 0.0 or along <= start:
        return along, left, 0.0
    turn = (along - start) * bend
    x, y = start + sin(turn) / bend, (1.0 - cos(turn)) / bend
    return x - left * sin(turn), y + left * cos(turn), turn


def lateral_places(feature: Feature, scenario: Scenario, rear_track: float) -> tuple[float, ...]:
    """[m] to the left of the path: where the feature's copies are centred."""
    if feature.y is not None:
        return (feature.y,)
    up = scenario.ground.uphill * rear_track / 2.0
    return {"uphill": (up,), "downhill": (-up,)}.get(feature.wheels or "", (up, -up))


def feature_rows(scenario: Scenario, fitted: Fitted) -> Vector:
    """(n, COLUMNS) feature array of a scenario for one outfit."""
    rows = [
        _row(feature, *path_point(scenario, feature.at, left))
        for feature in scenario.feature
        for left in lateral_places(feature, scenario, fitted.rear_track)
    ]
    return np.array(rows, dtype=np.float64).reshape(-1, COLUMNS)


def _row(feature: Feature, x: float, y: float, heading: float) -> tuple[float, ...]:
    height = -feature.height if feature.shape == "hole" else feature.height
    width = ACROSS if feature.width is None else feature.width
    return (
        PROFILES[feature.shape], x, y, cos(heading), sin(heading),
        feature.extent / 2.0, width / 2.0, FLANK_SHARE * width, height,
    )  # fmt: skip
