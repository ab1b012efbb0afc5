"""The quantities that a limit is looked for in: unit, range and tolerance of each."""

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, radians


@dataclass(frozen=True)
class Varied:
    """A quantity that a limit is looked for in."""

    unit: str
    shown: Callable[[float], float]  # from SI to that unit
    low: float  # SI
    high: float
    tolerance: float


VARIED = {
    "slope": Varied("deg", degrees, radians(2.0), radians(35.0), radians(0.05)),
    "speed": Varied("m/s", float, 0.25, 6.0, 0.02),
    "bump": Varied("m", float, 0.01, 0.40, 0.001),
}
