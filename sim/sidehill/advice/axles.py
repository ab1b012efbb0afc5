"""What the axles carry at most, and what they should."""

from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.statics.axles import axle_loads

FRONT_SHARE = 0.20  # of the mass, for steering (published: implement manuals)
REAR_SHARE = 0.25  # of the mass, with the bucket full (common practice, no source)


def heaviest_axle_loads(fitted: Fitted, steepest_grade: float) -> tuple[float, float]:
    """[kg] the most that front and rear carry on the level and on that grade, either way."""
    loads = [axle_loads(fitted, grade) for grade in (0.0, steepest_grade, -steepest_grade)]
    return max(front for front, _ in loads), max(rear for _, rear in loads)


def axle_ratings(machine: Machine) -> tuple[float | None, float | None]:
    """[kg] of the front and the rear axle, where the file has them."""
    limits = machine.limits
    return (None, None) if limits is None else (limits.front_axle, limits.rear_axle)


def front_share(fitted: Fitted, grade: float = 0.0) -> float:
    """Part of the load that the front axle carries; the rear one carries the rest."""
    front, rear = axle_loads(fitted, grade)
    return front / (front + rear)
