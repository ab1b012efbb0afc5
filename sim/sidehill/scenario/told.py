"""Schedules of a scenario in words, the same wherever they are told."""

from sidehill.files.units import show
from sidehill.scenario.course import Course
from sidehill.scenario.drive import Driving

MOST = 4  # pairs that are told


def speed_words(drive: Driving, us: bool) -> str:
    """ "3.0 km/h (1.9 mph), then 8.0 km/h (5.0 mph) at 6.00 m (19.7 ft)"; parked is 0."""
    later = [
        f"{show(speed, 'speed', us=us)} at {show(at, 'distance', us=us)}"
        for at, speed in drive.then or ()
    ]
    return ", then ".join([show(drive.speed, "speed", us=us), *_some(later)])


def bend_words(course: Course, us: bool) -> list[str]:
    """ "radius 6.00 m (19.7 ft) uphill from 4.00 m (13.1 ft) on" for each bend."""
    return _some([_bend(at, curvature, us) for at, curvature in course.curvatures])


def _bend(at: float, curvature: float, us: bool) -> str:
    start = show(at, "distance", us=us)
    if curvature == 0.0:
        return f"straight from {start} on"
    radius, side = show(1.0 / abs(curvature), "distance", us=us), "uphill"
    return f"radius {radius} {side if curvature > 0.0 else 'downhill'} from {start} on"


def _some(words: list[str]) -> list[str]:
    return words if len(words) <= MOST else [*words[:MOST], f"{len(words) - MOST} more"]
