"""A measured sub-compact beside an invented one: what each tyre effect does to the rigid answer.

Majdan et al. 2021, Applied Sciences 11(1) 381, measured one tractor on a hard floor, 0 to 122 kg
of rear ballast, standard and widened; and modelled vertical deflection and lateral shift of its
tyres. Lifted from a floor until balanced on its two right wheels, it stood at more than the rigid
angle of ISO 16231-2: another event than lift-off. Nothing here is tuned to it.
"""

from dataclasses import dataclass
from math import degrees, radians, tan

import numpy as np

from sidehill.crosscheck.compliant import SETTINGS
from sidehill.flat import flatten
from sidehill.kernels.tyre import SECTION_SHARE
from sidehill.machine.outfit import Outfit
from sidehill.machine.pressure import stiffnesses
from sidehill.rest import Rest
from sidehill.run.table import table_scenario
from sidehill.spread.softened import Tyres, give
from sidehill.spread.subject import Subject, load_subject
from sidehill.statics.slopes import lift_off_slope

SOURCE = "Majdan et al. 2021, Applied Sciences 11(1) 381 (published)"
MACHINE = "sorrel"  # the shipped sub-compact, invented
BALLAST = np.linspace(0.0, 122.0, 5)  # [kg] published
STANDARD = (2.57, 2.80, 3.04, 3.42, 3.88)  # [%] measured over rigid, by ballast
WIDENED = (2.40, 2.61, 3.11, 3.67, 3.99)
MODELLED = (0.91, 2.57)  # [%] left over with both tyre effects modelled, lowest and highest
SPACER = 0.05  # [m] a side, chosen: how far it was widened is not in what was read
WIDTHS = {"standard": (0.0, STANDARD), "widened": (SPACER, WIDENED)}


@dataclass(frozen=True)
class Effects:
    """One ballast and width. Changes of the lift-off slope in % of the rigid one, signed."""

    width: str
    ballast: float  # [kg]
    rigid: float  # [deg] lift-off
    vertical: float
    lateral: float
    section: float
    measured: float  # published: measured over rigid, of another machine
    outward: float  # [m] what the downhill contact would have to move out for that figure

    @property
    def together(self) -> float:
        """All three."""
        return self.vertical + self.lateral + self.section

    @property
    def agrees(self) -> bool:
        """Whether even the sign is the published one."""
        return self.together * self.measured > 0


def effects() -> tuple[Effects, ...]:
    """Every published row beside the invented machine's."""
    return tuple(
        compare(name, float(ballast), spacer, measured)
        for name, (spacer, row) in WIDTHS.items()
        for ballast, measured in zip(BALLAST, row, strict=True)
    )


def compare(width: str, ballast: float, spacer: float, measured: float) -> Effects:
    """The invented machine with a ballast [kg] and spacers [m], beside a published figure [%]."""
    outfit = Outfit(rear_ballast=f"{ballast} kg", rear_spacer=f"{spacer} m")
    subject = load_subject(MACHINE, outfit)
    rigid = degrees(float(lift_off_slope(subject.tipping)))
    flats = [flatten(subject.on(table_scenario(), settings)) for settings in SETTINGS]
    lifts = [rigid, *(degrees(Rest(flat).lift()) for flat in flats)]
    vertical, lateral, section = (100 * change / rigid for change in np.diff(lifts))
    return Effects(
        width=width,
        ballast=ballast,
        rigid=rigid,
        vertical=float(vertical),
        lateral=float(lateral),
        section=float(section),
        measured=measured,
        outward=_outward(subject, radians(rigid * (1 + measured / 100))),
    )


def _outward(subject: Subject, slope: float) -> float:
    """[m] from the tyre's middle to where its load must be for a lift-off at `slope` [rad]."""
    t, machine = subject.tipping, subject.machine
    front, rear = stiffnesses(machine, subject.outfit)
    tyres = Tyres(
        front_stiffness=front,
        rear_stiffness=rear,
        lateral_ratio=machine.rear_tyre.lateral_ratio,
        section=SECTION_SHARE * machine.rear_tyre.width,
    )
    found = give(t, tyres, slope)
    a = t.x / t.wheelbase
    half = tan(slope + float(found.lean)) * float(t.h - t.pin_height * a) / float(1 - a)
    return half - float(t.rear_track) / 2 + float(found.shift)
