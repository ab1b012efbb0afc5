"""Beside published overturns of tractors whose measures were not read: their size, no check.

Takeuchi et al. 1971, JSAM 33(3) 230-238, abstract: a machine of 1.9 t at about 2 m/s over about
0.20 m overturns above 20 deg of side slope. JSAM 82(1), abstract: a cornering tractor overturned
on 3 to 8 deg at a centripetal acceleration of about 4.0 m/s^2. Nothing here is tuned to either.
"""

from dataclasses import dataclass
from math import degrees, radians
from typing import Any

import numpy as np

from sidehill.case import Case
from sidehill.files.library import shipped
from sidehill.kernels.layout import Records
from sidehill.machine.file import load_machine
from sidehill.run import run
from sidehill.run.track import Track
from sidehill.scenario.file import load_scenario
from sidehill.strip.strip import take_strip

OBSTACLE_SOURCE = "Takeuchi et al. 1971, JSAM 33(3) 230-238, abstract (published)"
CORNER_SOURCE = "JSAM 82(1), abstract (published)"
OVER = 20.0  # [deg] published: it overturns above
PUBLISHED = 4.0  # [m/s^2] published, centripetal
RADIUS = 5.0  # [m] of the turn, chosen
SLOPES = (radians(3.0), radians(8.0))
HEAVY = "hawthorn"  # the shipped machine of about 1.9 t with its operator, invented
_OBSTACLE = {"drive.speed": 2.0, "feature.1.height": 0.20, "feature.1.length": 0.8}
_TURN: dict[str, Any] = {
    "feature": [],
    "ground.friction": 0.8,
    "course.radius": RADIUS,
    "course.after": 4.0,
    "course.length": 4.0 + 3.0 * RADIUS,
}
_SLOWEST, _FASTEST, _NARROW = 2.0, 8.0, 0.05  # [m/s]
_UPRIGHT = radians(10.0)  # of roll, up to which it is still cornering
_SMOOTH = 20  # rows of the record, 0.2 s


@dataclass(frozen=True)
class Cornering:
    """One shipped machine, bare, turned uphill: its outer side is downhill as it begins."""

    machine: str
    slope: float  # [deg]
    acceleration: float | None  # [m/s^2] speed by yaw rate, most in the slowest run that goes over
    ending: str  # what the fastest run that does not go over came to


def over_obstacle() -> float | None:
    """[deg] the first side slope at which the heavy machine goes over; None: none up to 32."""
    low, high, scan, tolerance = map(radians, (8.0, 32.0, 1.0, 0.1))
    scenario = load_scenario("bank-stone").with_values(_OBSTACLE)
    strip = take_strip(
        Case(load_machine(HEAVY), scenario), low=low, high=high, scan=scan, tolerance=tolerance,
        until=("overturned",), engine="compiled",
    )  # fmt: skip
    found = strip.limit("overturned").first_bad
    return None if found is None else degrees(found)


def cornerings() -> tuple[Cornering, ...]:
    """Every shipped machine on both slopes."""
    return tuple(corner(name, slope) for name in shipped("machine") for slope in SLOPES)


def corner(name: str, slope: float) -> Cornering:
    """The speed asked for is halved between one at which it goes over and one at which not."""
    machine = load_machine(name)

    def turned(speed: float) -> Track:
        turn = _TURN | {"ground.slope": slope, "drive.speed": speed}
        return run(Case(machine, load_scenario("turn-uphill").with_values(turn)), "compiled")

    low, high, last, best = _SLOWEST, _FASTEST, turned(_FASTEST), turned(_SLOWEST)
    if last.outcome.stability != "overturned":
        return Cornering(name, degrees(slope), None, _words(last))
    while high - low > _NARROW:
        middle = 0.5 * (low + high)
        track = turned(middle)
        if track.outcome.stability == "overturned":
            high, last = middle, track
        else:
            low, best = middle, track
    return Cornering(name, degrees(slope), _centripetal(last.written()), _words(best))


def _words(track: Track) -> str:
    return f"{track.outcome.stability}, {track.outcome.progress}"


def _centripetal(rows: Records) -> float:
    """[m/s^2] most of speed by yaw rate over 0.2 s, while it is upright."""
    rows = rows[: max(int(np.argmax(np.abs(rows["roll_slope"]) > _UPRIGHT)), _SMOOTH + 2)]
    x, y = rows["position"][:, 0], rows["position"][:, 1]
    heading = np.unwrap(2.0 * np.arctan2(rows["quaternion"][:, 2], rows["quaternion"][:, 3]))
    time = rows["t_s"][_SMOOTH:] - rows["t_s"][:-_SMOOTH]
    way = np.hypot(x[_SMOOTH:] - x[:-_SMOOTH], y[_SMOOTH:] - y[:-_SMOOTH])
    turn = np.abs(heading[_SMOOTH:] - heading[:-_SMOOTH])
    return float((way * turn / time**2).max())
