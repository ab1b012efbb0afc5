"""The inputs an answer hangs on, each with the spread it is known to."""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from sidehill.kernels.tyre import SECTION_SHARE
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.machine.pressure import stiffness_at, stiffnesses
from sidehill.scenario.file import load_scenario
from sidehill.spread.subject import Subject
from sidehill.statics.vector import Array

AXLE_LOAD, STIFFNESS, FRICTION = 0.01, 0.20, 0.20  # relative standard errors
DAMPING = (0.02, 0.10)  # ratio: published range of large tyres to what soil and a walk may add
RATIO = (0.4, 0.8)  # lateral over vertical stiffness: anywhere in between
SECTION = (0.0, SECTION_SHARE)  # of the section width that the tyre stands on: the same

CG_HEIGHT, FRONT_LOAD, REAR_LOAD = "CG height", "front axle load", "rear axle load"
FRONT_STIFFNESS, REAR_STIFFNESS = "front tyre stiffness", "rear tyre stiffness"
LATERAL, SECTION_WIDTH, GRIP = "lateral ratio", "section width", "friction"
DAMPING_RATIO, ENVELOPING = "damping ratio", "tyre law"
DRIVEN = (DAMPING_RATIO, GRIP, ENVELOPING)  # of no bearing on a machine that stands


@dataclass(frozen=True)
class Input:
    """One input. A normal spread, or anywhere in a range."""

    name: str
    best: float  # SI, as the files give it
    low: float  # two standard errors under the best, or the end of the range
    high: float
    is_normal: bool
    stated: str  # the spread in words

    @property
    def error(self) -> float:
        """[SI] standard deviation."""
        return (self.high - self.low) / (4.0 if self.is_normal else sqrt(12.0))

    def draw(self, count: int, random: np.random.Generator) -> Array:
        """(count,) values."""
        if self.is_normal:
            return random.normal(self.best, self.error, count)
        return random.uniform(self.low, self.high, count)


def inputs(subject: Subject) -> dict[str, Input]:
    """Every input of a machine, by name, at its default spread."""
    weighed, rear = subject.machine.weighed, subject.machine.rear_tyre
    stiff_front, stiff_rear = stiffnesses(subject.machine, subject.outfit)
    source = f"{100 * weighed.cg_height_spread:.0f} %, {weighed.cg_height_from}"
    found = (
        _normal(CG_HEIGHT, weighed.cg_height, weighed.cg_height_spread, source),
        _normal(FRONT_LOAD, weighed.front_axle, AXLE_LOAD),
        _normal(REAR_LOAD, weighed.rear_axle, AXLE_LOAD),
        _normal(FRONT_STIFFNESS, stiff_front, STIFFNESS),
        _normal(REAR_STIFFNESS, stiff_rear, STIFFNESS),
        _range(LATERAL, rear.lateral_ratio, RATIO),
        _range(SECTION_WIDTH, SECTION_SHARE, SECTION),
        _range(DAMPING_RATIO, rear.damping_ratio, DAMPING),
        Input(ENVELOPING, 0.0, 0.0, 1.0, False, "point to enveloping"),
        _normal(GRIP, load_scenario("bank-stone").ground.friction, FRICTION),
    )
    return {item.name: item for item in found}


def _normal(name: str, best: float, share: float, stated: str = "") -> Input:
    low, high = best * (1 - 2 * share), best * (1 + 2 * share)
    return Input(name, best, low, high, True, stated or f"{100 * share:.0f} %")


def _range(name: str, best: float, ends: tuple[float, float]) -> Input:
    """A range that takes in the machine's own value."""
    low, high = min(ends[0], best), max(ends[1], best)
    return Input(name, best, low, high, False, f"{low:g} to {high:g}")


def with_inputs(machine: Machine, outfit: Outfit, values: dict[str, float]) -> Machine:
    """The machine with some of its inputs [SI] changed; section width, friction and the law of
    its tyres are not its. A stiffness is that at the outfit's pressure."""
    for name, tyre, pressure in (
        (FRONT_STIFFNESS, machine.front_tyre, outfit.front_pressure),
        (REAR_STIFFNESS, machine.rear_tyre, outfit.rear_pressure),
    ):
        if name in values:
            own = stiffness_at(tyre) - stiffness_at(tyre, pressure)
            values = values | {name: values[name] + own}
    fields = {
        CG_HEIGHT: ("weighed.cg_height",),
        FRONT_LOAD: ("weighed.front_axle",),
        REAR_LOAD: ("weighed.rear_axle",),
        FRONT_STIFFNESS: ("front_tyre.stiffness",),
        REAR_STIFFNESS: ("rear_tyre.stiffness",),
        DAMPING_RATIO: ("front_tyre.damping_ratio", "rear_tyre.damping_ratio"),
        LATERAL: ("front_tyre.lateral_ratio", "rear_tyre.lateral_ratio"),
    }
    changed = {field: value for name, value in values.items() for field in fields.get(name, ())}
    return machine.with_values(changed)
