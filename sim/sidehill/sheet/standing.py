"""Standing still: lift-off and overturn slope of an outfit, each with its interval."""

from dataclasses import dataclass
from math import isfinite, nan

from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.spread.closed import closed_form_spread
from sidehill.spread.interval import Interval
from sidehill.spread.subject import Subject
from sidehill.statics.assembly import Side


@dataclass(frozen=True)
class Standing:
    """Side slopes without a grade [deg]; a text stands where there is no interval."""

    lift_off: Interval | str  # on tyres that give
    overturn: Interval | str  # closed form, rigid tyres, without loss

    @property
    def least(self) -> float:
        """[deg] lower end of the lift-off slope; NaN where it is not known."""
        if isinstance(self.lift_off, str) or not isfinite(self.lift_off.low):
            return nan
        return self.lift_off.low


def standing(machine: Machine, outfit: Outfit, downhill: Side) -> Standing:
    """The intervals of a machine in an outfit."""
    subject = Subject(_facing(machine, downhill), outfit, gaps={})
    if (lack := subject.lacks()) is not None:
        return Standing(lack, lack)
    return Standing(*closed_form_spread(subject))


def _facing(machine: Machine, downhill: Side) -> Machine:
    """Intervals have the right side downhill: for the left one the machine is mirrored."""
    offset = machine.weighed.cg_offset
    if downhill == "right" or offset == 0.0:
        return machine
    return machine.with_values({"weighed.cg_offset": -offset})
