"""Where a machine can stand at the start of its course, by compliant statics."""

from math import radians

from sidehill.case import Case
from sidehill.flat import flatten
from sidehill.rest import Rest


def crabbed_lift_off(case: Case) -> float:
    """[rad] compliant lift-off, heading as the tyres' slip asks at just that slope."""
    slope = radians(20.0)
    for _ in range(20):
        rest = Rest(flatten(case.with_slope(slope)), on_all_wheels=True)
        before, slope = slope, rest.lift()
        if abs(slope - before) < 1e-5:
            break
    return slope
