"""What stands beside the picture of a scenario: ground, drive, and every feature in a line."""

from itertools import pairwise

from sidehill.files.units import show, show_slope
from sidehill.picture.survey import Survey
from sidehill.scenario.file import Scenario
from sidehill.scenario.ground import ROUGHNESS, Feature, Ground
from sidehill.scenario.told import bend_words, speed_words

MOST = 8  # features that are told in words


def fact_lines(survey: Survey, us: bool) -> list[str]:
    """Ground, course, drive, bucket and machine."""
    scenario, fitted = survey.scenario, survey.fitted
    tracks = [show(track, "length", us=us) for track in (fitted.rear_track, fitted.front_track)]
    cg = show(float(fitted.cg[2]), "length", us=us, rounding="up")
    return [
        _ground(scenario.ground),
        _surface(scenario, us),
        _soil(scenario.ground, us),
        *_course(survey, us),
        *_bucket(survey, us),
        f"{fitted.machine.name}: rear track {tracks[0]}, front track {tracks[1]}",
        f"CG {cg} high, as fitted at the start",
    ]


def _ground(ground: Ground) -> str:
    grade = ""
    if ground.grade != 0.0:
        way = "nose up" if ground.grade > 0.0 else "nose down"
        grade = f", grade {show_slope(abs(ground.grade))} {way}"
    return f"side slope {show_slope(ground.slope)}, {ground.downhill} side downhill{grade}"


def _surface(scenario: Scenario, us: bool) -> str:
    ground, heights = scenario.ground, scenario.heights
    if heights is not None:
        ends = [show(at, "distance", us=us) for at in (heights.start, heights.end)]
        return f"heights of its own from {ends[0]} to {ends[1]}, {len(heights.height)} profiles"
    if ground.roughness == 0.0:
        return "smooth ground"
    named = {value: f"ISO 8608 class {name}" for name, value in ROUGHNESS.items()}
    rough = named.get(ground.roughness, f"{ground.roughness:g} m^3")
    return f"rough ground: {rough}, seed {ground.seed}, coherence {ground.coherence:g}"


def _soil(ground: Ground, us: bool) -> str:
    soil = "hard"
    if not isinstance(ground.stiffness, str):
        soil = f"soft, {show(ground.stiffness, 'stiffness', us=us)} a wheel"
    return f"{soil}; friction {ground.friction:g}, rolling resistance {ground.rolling_resistance:g}"


def _course(survey: Survey, us: bool) -> list[str]:
    course, drive = survey.scenario.course, survey.scenario.drive
    if course.is_tilt_table:
        method = {
            "fall": "falls freely onto the axle stop",
            "lower": "is lowered gently onto the axle stop",
            "release": "is held square to its front axle, and let go at the full slope",
        }
        return [f"tilt table: the body {method[course.method]}"]
    way = "; ".join(
        [f"{course.path}, {show(survey.length, 'distance', us=us)}", *bend_words(course, us)]
    )
    speed = speed_words(drive, us)
    held = f"{speed} held" if drive.hold == "speed" else f"coasting from {speed}"
    parts = [held if drive.speed > 0.0 else "parked", f"differential {drive.differential}"]
    if drive.brake is not None:
        let_go = "" if drive.brake.let_go is None else f", let go after {drive.brake.let_go:g} s"
        at = show(drive.brake.at, "distance", us=us)
        parts.append(f"brake {drive.brake.wheels} from {at}{let_go}")
    return [way, ", ".join(parts)]


def _bucket(survey: Survey, us: bool) -> list[str]:
    schedule = survey.scenario.loader
    if schedule is None:
        return []
    moves = [
        f"{_height(low, us)} to {_height(high, us)} from {start:g} m to {end:g} m"
        for (start, low), (end, high) in pairwise(schedule.height)
        if low != high
    ]
    return [f"bucket pin: {'; '.join(moves) or 'not moved'}"]


def _height(value: float | str, us: bool) -> str:
    return value if isinstance(value, str) else show(value, "length", us=us)


def feature_lines(survey: Survey, us: bool) -> list[str]:
    """Every feature by its number on the picture, in two lines."""
    features = survey.scenario.feature
    lines = []
    for number, feature in enumerate(features[:MOST], start=1):
        at = show(feature.at, "distance", us=us)
        lines += [f"{number}  {feature.shape} {_place(feature, us)}, at {at}", _size(feature, us)]
    if len(features) > MOST:
        lines.append(f"and {len(features) - MOST} more")
    return lines


def _place(feature: Feature, us: bool) -> str:
    if feature.wheels is not None:
        both = feature.wheels == "both"
        return "under both rear wheels" if both else f"under the {feature.wheels} rear wheel"
    if feature.y is None:
        return "right across the course"
    side = "left" if feature.y >= 0.0 else "right"
    return f"{show(abs(feature.y), 'distance', us=us)} {side} of the path"


def _size(feature: Feature, us: bool) -> str:
    upright = "deep" if feature.kind.sinks else "high"
    size = f"    {show(feature.height, 'length', us=us)} {upright}"
    size += f", {show(feature.extent, 'distance', us=us)} long"
    if feature.width is not None:
        size += f", {show(feature.width, 'distance', us=us)} wide"
    if feature.time is not None:
        size += f", gives way over {feature.time:g} s"
    return size
