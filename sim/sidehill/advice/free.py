"""What costs nothing: driven slower, bucket low, bucket empty; and up and down, not across."""

from dataclasses import dataclass
from math import radians

from sidehill.case import Case
from sidehill.files.units import show
from sidehill.machine.loader import pin_height
from sidehill.scenario.file import Scenario
from sidehill.study.study import Study

WALKING = 2.0 / 3.6  # [m/s] half of a speed up to this is not asked for
_LOW = {"bucket_height": "carry"}
_STEEPEST = radians(45.0)  # grade that a scenario may have


@dataclass(frozen=True)
class Free:
    """One change from as delivered that nothing has to be bought for."""

    name: str  # "half the speed, 2.4 km/h (1.5 mph)"
    case: Case | None  # None: there is nothing to change, and `already` says so
    already: str = ""
    is_kept: bool = False  # whether it is done already, and must go on


def free_changes(study: Study, us: bool = False) -> tuple[Free, ...]:
    """Half the speed, the bucket carried low, both together, the bucket empty."""
    first = study.case(study.options[0])
    slow, low = _slower(first, us), _lower(first)
    found = [slow, low]
    if slow.case is not None and low.case is not None:
        both = Case(first.machine, without_moves(slow.case.scenario), low.case.outfit)
        found.append(Free("half the speed and the bucket carried low", both))
    return (*found, _emptier(first))


def _slower(case: Case, us: bool) -> Free:
    if case.scenario.drive.then is not None:
        return Free("half the speed", None, "the scenario changes the speed on the way: not tried")
    half = case.scenario.drive.speed / 2.0
    if case.scenario.drive.speed <= WALKING + 1e-9:
        own = show(case.scenario.drive.speed, "speed", us=us)
        return Free("half the speed", None, f"the speed is {own} already: no faster", True)
    name = f"half the speed, {show(half, 'speed', us=us, rounding='down')}"
    return Free(name, case.with_scenario({"drive.speed": half}))


def _lower(case: Case) -> Free:
    loader, name = case.machine.loader, "the bucket carried low"
    if loader is None:
        return Free(name, None, "no loader is fitted")
    is_low = pin_height(loader, case.outfit.bucket_height) <= loader.carry_height + 1e-9
    if is_low and case.scenario.loader is None:
        return Free(name, None, "the bucket is carried low already: keep it there", True)
    outfit = case.outfit.with_values(_LOW)
    return Free(name, Case(case.machine, without_moves(case.scenario), outfit))


def without_moves(scenario: Scenario) -> Scenario:
    """The scenario without its loader's moves: the bucket stays where it is carried."""
    return scenario if scenario.loader is None else scenario.model_copy(update={"loader": None})


def _emptier(case: Case) -> Free:
    if case.outfit.bucket_load <= 0.0:
        return Free("the bucket empty", None, "no load is in the bucket")
    outfit = case.outfit.with_values({"bucket_load": 0.0})
    return Free("the bucket empty", Case(case.machine, case.scenario, outfit))


def up_and_down(study: Study) -> tuple[Case, Case] | None:
    """The same bank driven straight up and straight down; None where that has no meaning here.

    A turn, a course that has a grade of its own, and what no grade may be, are left alone.
    """
    case = study.case(study.options[0])
    ground, course = case.scenario.ground, case.scenario.course
    if course.path != "contour" or ground.grade != 0.0 or not 0.0 < ground.slope <= _STEEPEST:
        return None
    up, down = (
        case.with_scenario({"ground.slope": 0.0, "ground.grade": sign * ground.slope})
        for sign in (1.0, -1.0)
    )
    return up, down
