"""The work of `sidehill picture`: everything checked, then drawn."""

from collections.abc import Sequence
from math import degrees
from pathlib import Path
from typing import Any, get_args

from sidehill.case import Case
from sidehill.cli.progress import progress
from sidehill.files.errors import InputError
from sidehill.files.spec import defaults_used
from sidehill.files.whole import ready_file, write_file
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.picture.course import course_picture
from sidehill.picture.style import Kind
from sidehill.picture.survey import Survey, survey
from sidehill.scenario.file import load_scenario
from sidehill.terrain.course import path_point

FOLDER = Path("sidehill-picture")
KINDS: dict[str, Kind] = {f".{kind}": kind for kind in get_args(Kind)}


def picture(
    scenario: str,
    machine: str,
    changes: Sequence[str] | None,
    outfit: Outfit,
    file: Path | None,
    us: bool,
) -> tuple[dict[str, Any], Survey]:
    """Draw a scenario into a file; what was drawn, plain SI values.

    Raises:
        InputError: a file, field or option that cannot be used.
    """
    case = Case(load_machine(machine), load_scenario(scenario, changes or ()), outfit)
    with progress("drawing"):
        seen = survey(case)
        target = _target(file or FOLDER / f"{Path(scenario).stem}.png")
        write_file(target, course_picture(seen, KINDS[target.suffix], us=us))
    defaults = [
        text for part in (case.scenario, case.machine, outfit) for text in defaults_used(part)
    ]
    return {"file": str(target), **_told(seen), "defaults": defaults}, seen


def _target(file: Path) -> Path:
    """Where the picture goes, its folder made sure of."""
    if file.suffix not in KINDS:
        raise InputError(f"{file}: the name must end in {' or '.join(KINDS)}")
    return ready_file(file, file.suffix)


def _told(seen: Survey) -> dict[str, Any]:
    ground = seen.scenario.ground
    return {
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
