"""What one way of fitting and driving does on the bank asked about, and on every other slope."""

from dataclasses import dataclass
from functools import cached_property
from math import radians
from typing import Any

from sidehill.advice.reach import Reach, reach_of
from sidehill.case import Case
from sidehill.engines import REFERENCE
from sidehill.files.errors import SidehillError
from sidehill.run.outcome import Outcome
from sidehill.strip.spot import Spot, run_spot
from sidehill.strip.strip import Strip, take_strip

_QUICK: dict[str, Any] = {"scan": radians(1.0), "tolerance": radians(0.25)}


@dataclass(frozen=True)
class Means:
    """By what it is computed."""

    engine: str = "compiled"  # a name of `engines.NAMES`
    quick: bool = False  # coarser strips, no second engine

    @property
    def is_checked(self) -> bool:
        """Whether what decides is run again in the second engine; one asked for stands alone."""
        return self.engine == "compiled" and not self.quick

    @property
    def fineness(self) -> dict[str, Any]:
        """How finely a strip of slopes is scanned and narrowed [rad]."""
        return _QUICK if self.quick else {}


@dataclass(frozen=True)
class Look:
    """One way, by name. What could not be computed is None, with why."""

    name: str
    case: Case  # on the bank asked about
    spot: Spot | None  # its run there
    strip: Strip | None  # over side slopes
    problem: str = ""

    @cached_property
    def reach(self) -> Reach | None:
        """How far its strip is good."""
        return None if self.strip is None else reach_of(self.strip)

    @property
    def outcome(self) -> Outcome | None:
        """Of the run on the bank asked about."""
        return None if self.spot is None else self.spot.outcome

    @property
    def is_good(self) -> bool:
        """Whether the run on that bank may be shown as a good result."""
        return self.spot is not None and self.spot.is_good

    @property
    def good_up_to(self) -> float | None:
        """[rad] to which every slope tried is good; None: none, or not known."""
        return None if self.reach is None else self.reach.good_up_to

    @property
    def engines_agree(self) -> bool:
        """Whether the second engine, if it was asked, came to the same on that bank."""
        return self.spot is None or self.spot.agrees


def look_at(name: str, case: Case, means: Means) -> Look:
    """Run the case on its own slope, in both engines, and over all slopes."""
    try:
        spot = checked_spot(case, means)
        strip = strip_of(case, means)
    except SidehillError as error:
        return Look(name, case, None, None, str(error))
    return Look(name, case, spot, strip)


def checked_spot(case: Case, means: Means) -> Spot:
    """The case's own run, with what the second engine says of it.

    Raises:
        SidehillError: it cannot be run.
    """
    slope = case.scenario.ground.slope
    spot = run_spot(case, slope, means.engine)
    if not means.is_checked:
        return spot
    return spot.with_reference(run_spot(case, slope, REFERENCE))


def strip_of(case: Case, means: Means, up_to: float | None = None, **how: Any) -> Strip:
    """The case over side slopes, each change narrowed and run again in the second engine.

    Args:
        up_to: [rad], else as steep as strips go; how: as of `take_strip`.

    Raises:
        SidehillError: it cannot be run.
    """
    engine = "auto" if means.is_checked else means.engine
    return take_strip(case, "slope", high=up_to, engine=engine, **(means.fineness | how))
