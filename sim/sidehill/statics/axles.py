"""What each axle carries, on the level and on a grade."""

from sidehill.machine.fitted import Fitted
from sidehill.statics.assembly import from_fitted
from sidehill.statics.loads import balance
from sidehill.statics.tipping import GRAVITY


def axle_loads(fitted: Fitted, grade: float = 0.0) -> tuple[float, float]:
    """[kg] front and rear, square to a ground without side slope; a negative one has lifted.

    Args:
        grade: [rad] nose up positive.
    """
    front_down, front_up, rear_down, rear_up = balance(from_fitted(fitted), 0.0, grade)
    return float(front_down + front_up) / GRAVITY, float(rear_down + rear_up) / GRAVITY
