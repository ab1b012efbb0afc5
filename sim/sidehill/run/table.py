"""The tilt table: the shipped one, and the slopes at which a machine on it goes over."""

from collections.abc import Callable
from math import radians

from sidehill.case import Case
from sidehill.kernels.layout import OVERTURNED, Records
from sidehill.run import run
from sidehill.scenario.file import Scenario, load_scenario

TOLERANCE = radians(0.02)  # of the overturn slope
_PAST = radians(0.5)  # past the second stage it goes over for certain
_STEEPEST = radians(59.0)  # a table is turned to


def table_scenario(method: str = "fall", stiffness: float | None = None) -> Scenario:
    """The shipped tilt table, hard unless it has a stiffness [N/m] under each wheel."""
    changed: dict[str, str | float] = {"course.method": method}
    if stiffness is not None:
        changed["ground.stiffness"] = stiffness
    return load_scenario("tilt-table").with_values(changed)


def fall_through(case: Case, engine: str, lift: float, second: float) -> float | None:
    """[rad] lowest slope from lift-off on at which the body, let go on four wheels, carries over.

    None where it does not even past the second stage.

    Args:
        case: on the table whose body is held and released.
    """
    return bisect(lambda slope: goes_over(case, engine, slope), lift, second + _PAST)


def goes_over(case: Case, engine: str, slope: float) -> bool:
    """Whether a machine that is held on four wheels and let go at a slope [rad] goes over."""
    held = case.with_slope(min(slope, _STEEPEST))
    return bool(run(held, engine).state["finish"][0] == OVERTURNED)


def bisect(is_over: Callable[[float], bool], low: float, high: float) -> float | None:
    """[rad] lowest slope that is over, rounded down to the last one tried that is not.

    `low` itself if it is; None if `high` is not.
    """
    if is_over(low):
        return low
    if not is_over(high):
        return None
    while high - low > TOLERANCE:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if is_over(middle) else (middle, high)
    return low


def event(state: Records, number: int) -> float | None:
    """[rad] an event of the table; None if it did not come."""
    return float(state["event_slope"][0, number]) or None
