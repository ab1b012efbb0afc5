"""What is on a picture of a scenario, in words and as JSON."""

from math import degrees
from typing import Any

from rich.console import Console

from sidehill.cli import console
from sidehill.cli.picture_run import Drawn
from sidehill.files.spec import defaults_used
from sidehill.picture.survey import Survey
from sidehill.terrain.course import path_point


def tell(out: Console, drawn: Drawn) -> None:
    """What it teaches, and where the picture is."""
    seen = drawn.survey
    out.print(f"{seen.scenario.title}: {seen.scenario.teaches}")
    out.print(f"wrote {drawn.file}")
    console.close(out, drawn.warnings, seen.notes, defaults(drawn))


def defaults(drawn: Drawn) -> list[str]:
    """Every field left to a default."""
    return defaults_used(drawn.case.scenario, drawn.case.machine, drawn.case.outfit)


def data(drawn: Drawn) -> dict[str, Any]:
    """Plain SI values for JSON."""
    seen = drawn.survey
    ground = seen.scenario.ground
    return {
        "file": str(drawn.file),
        "scenario": seen.scenario.title,
        "machine": seen.fitted.machine.name,
        "slope_deg": degrees(ground.slope),
        "grade_deg": degrees(ground.grade),
        "downhill": ground.downhill,
        "path": seen.scenario.course.path,
        "length_m": seen.scenario.course.length,
        "rear_track_m": seen.fitted.rear_track,
        "front_track_m": seen.fitted.front_track,
        "cg_height_m": float(seen.fitted.cg[2]),
        "features": [
            _placed(seen, number, left)
            for number in range(len(seen.scenario.feature))
            for left in seen.places(number)
        ],
        "notes": list(seen.notes),
        "defaults": defaults(drawn),
    }


def _placed(seen: Survey, number: int, left: float) -> dict[str, Any]:
    """One copy of a feature, where it lies; `number` counts from 0."""
    feature = seen.scenario.feature[number]
    x, y, heading = path_point(seen.scenario, feature.at, left)
    return {
        "number": number + 1,
        "shape": feature.shape,
        "at_m": feature.at,
        "left_m": left,
        "x_m": x,
        "y_m": y,
        "heading_deg": degrees(heading),
        "height_m": feature.top,
        "length_m": feature.extent,
        "width_m": feature.width,
    }
