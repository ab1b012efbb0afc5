"""Whether a course suits a machine in its outfit: refused before the first step, or noted."""

from math import degrees, inf, tan

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.units import show
from sidehill.flat.discs import reach
from sidehill.kernels.layout import MOST_GIVES
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.loader import arm_angle, refuse_dragging
from sidehill.scenario.ground import Feature
from sidehill.scenario.heights import FADE, ROUND_OFF
from sidehill.terrain.build import laid, lateral_places

START_ROOM = 0.1  # [m] between the front tyres at the start and the first feature


def refuse_misfits(case: Case) -> None:
    """Check turn, front drive and loader, which only machine and scenario together can tell.

    Raises:
        InputError: file, field, value and what is allowed.
    """
    _turn(case)
    _front_drive(case)
    _loader(case)


def refuse_features(case: Case, fitted: Fitted) -> None:
    """Check that every feature suits the wheels and lies ahead of them at the start.

    Raises:
        InputError: file, field, value and what is allowed.
    """
    for number, feature in enumerate(case.scenario.feature, start=1):
        _feature(case, fitted, number, feature)
    _heights(case)
    giving = sum(feature.kind.gives for _, feature in laid(case.scenario, fitted))
    if giving > MOST_GIVES:
        raise InputError(
            f"{_where(case, 'feature')}: {giving} patches that give way; allowed: up to "
            f"{MOST_GIVES}, both sides counted"
        )


def _where(case: Case, field: str) -> str:
    return f"{case.scenario.file or 'scenario'}: {field}"


def _turn(case: Case) -> None:
    course, machine = case.scenario.course, case.machine
    tightest = machine.body.wheelbase / tan(machine.steering.max_angle)
    sharpest = max((abs(curvature) for _, curvature in course.curvatures), default=0.0)
    if sharpest * tightest > 1.0:
        field = "course.bends: a radius of" if course.radius is None else "course.radius ="
        raise InputError(
            f"{_where(case, field)} {show(1.0 / sharpest, 'distance')}: {machine.name} steers "
            f"to {degrees(machine.steering.max_angle):.0f} deg; allowed: at least "
            f"{show(tightest, 'distance', rounding='up')}"
        )


def _front_drive(case: Case) -> None:
    if case.scenario.drive.four_wheel and case.machine.drive.driven != "four":
        raise InputError(
            f"{_where(case, 'drive.four_wheel')} = true: {case.machine.name} has no front drive; "
            'allowed: false, or leave it out; or a machine with drive.driven = "four"'
        )


def features_end(case: Case, fitted: Fitted) -> float:
    """[m] path length of the rear axle at which its wheels have left the last feature that lies
    on the way of any wheel, and heights that are off the plane; -inf if there are none."""
    ends = [
        feature.at + feature.extent / 2.0 + case.machine.rear_tyre.radius
        for feature in case.scenario.feature
        if _in_the_way(case, fitted, feature)
    ]
    heights = case.scenario.heights
    if heights is not None and heights.span is not None:
        ends.append(heights.span[1] + case.machine.rear_tyre.radius)
    return max(ends, default=-inf)


def _loader(case: Case) -> None:
    schedule, loader = case.scenario.loader, case.machine.loader
    if schedule is None:
        if loader is not None:
            refuse_dragging(loader, case.outfit, case.outfit.bucket_height)
        return
    if loader is None:
        raise InputError(
            f"{_where(case, 'loader.height')}: {case.machine.name} has no [loader]; allowed: a "
            "machine with one, or a scenario without [loader]"
        )
    for _, height in schedule.height:
        wanted = case.outfit.bucket_height if height == "as fitted" else height
        try:
            arm_angle(loader, wanted)
            refuse_dragging(loader, case.outfit, wanted)
        except InputError as error:
            raise InputError(f"{_where(case, 'loader.height')}: {error}") from None


def _first_free(machine: Machine) -> float:
    """[m] path length from which on the ground may be off the plane: ahead of it at the start."""
    return machine.body.wheelbase + machine.front_tyre.radius + START_ROOM


def _heights(case: Case) -> None:
    heights, first = case.scenario.heights, _first_free(case.machine)
    if heights is None or heights.span is None or heights.span[0] >= first - ROUND_OFF:
        return
    raise InputError(
        f"{_where(case, 'heights')}: off the plane from {show(heights.span[0], 'distance')} on, "
        f"where {case.machine.name} stands as it starts (what does not begin with 0 rises to "
        f"it over {FADE:g} m before); allowed: from {show(first, 'distance', rounding='up')}; "
        "move heights.start"
    )


def _feature(case: Case, fitted: Fitted, number: int, feature: Feature) -> None:
    machine = case.machine
    field = f"feature.{number}"
    smallest = min(machine.front_tyre.radius, machine.rear_tyre.radius)
    if feature.kind.sinks and feature.height >= smallest:
        raise InputError(
            f"{_where(case, f'{field}.height')} = {show(feature.height, 'length')}: a wheel of "
            f"{machine.name} would not come out; allowed: under {show(smallest, 'length')}"
        )
    if not _in_the_way(case, fitted, feature):
        return
    first = _first_free(machine)
    if feature.at - feature.extent / 2.0 < first:
        raise InputError(
            f"{_where(case, f'{field}.at')} = {show(feature.at, 'distance')}: the {feature.shape} "
            f"lies under {machine.name} as it starts; allowed: from "
            f"{show(first + feature.extent / 2.0, 'distance', rounding='up')}"
        )


def _in_the_way(case: Case, fitted: Fitted, feature: Feature) -> bool:
    """Whether a disc of any wheel, on its way along the path, meets the feature."""
    return feature.width is None or any(
        abs(abs(left) - track / 2.0) < feature.width / 2.0 + reach(case, tyre.width)
        for left in lateral_places(feature, case.scenario, fitted.rear_track)
        for track, tyre in (
            (fitted.front_track, case.machine.front_tyre),
            (fitted.rear_track, case.machine.rear_tyre),
        )
    )


def _front_overlap(feature: Feature, left: float, fitted: Fitted) -> float:
    """[m] of a front tyre's section, the more covered side's, over a feature centred at `left`."""
    tyre, track = fitted.machine.front_tyre, fitted.front_track
    if feature.width is None:
        return tyre.width
    return max(
        min(wheel + tyre.width / 2.0, left + feature.width / 2.0)
        - max(wheel - tyre.width / 2.0, left - feature.width / 2.0)
        for wheel in (-track / 2.0, track / 2.0)
    )


def overlap_notes(case: Case, fitted: Fitted) -> tuple[str, ...]:
    """How much of the front tyres' section meets each feature that lies under a rear wheel, and
    which features no wheel meets."""
    notes = []
    for number, feature in enumerate(case.scenario.feature, start=1):
        if not _in_the_way(case, fitted, feature):
            place = f"y = {show(feature.y or 0.0, 'length')}"
            notes.append(f"feature {number}, a {feature.shape} at {place}: no wheel's way meets it")
        if feature.kind.gives:
            notes.append(
                f"feature {number}, a {feature.shape}: even until a rear wheel stands on its "
                "middle; drawn as it lies after that"
            )
        if feature.wheels is None:
            continue
        left = lateral_places(feature, case.scenario, fitted.rear_track)[0]
        width = fitted.machine.front_tyre.width
        met = max(0.0, min(width, _front_overlap(feature, left, fitted)))
        notes.append(
            f"feature {number}, a {feature.shape} under the rear wheel's way: the front tyre "
            f"meets it over {show(met, 'length')} of its {show(width, 'length')}"
        )
    return tuple(notes)
