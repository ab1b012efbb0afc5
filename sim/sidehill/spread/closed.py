"""Spread of the closed-form answers: lift-off on tyres, and overturn on rigid ones."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from sidehill.spread.inputs import (
    CG_HEIGHT,
    FRONT_LOAD,
    FRONT_STIFFNESS,
    LATERAL,
    REAR_LOAD,
    REAR_STIFFNESS,
    SECTION_WIDTH,
    inputs,
)
from sidehill.spread.interval import Answer, Interval, sampled
from sidehill.spread.softened import Tyres, lift_off_on_tyres
from sidehill.spread.subject import Subject
from sidehill.statics.slopes import overturn_slope
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array

BODY = (CG_HEIGHT, FRONT_LOAD, REAR_LOAD)
TYRE_INPUTS = (FRONT_STIFFNESS, REAR_STIFFNESS, LATERAL, SECTION_WIDTH)
_NO_TYRES = "on rigid tyres and without loss: tyres are not in it, the simulated one has them"


def weighed_again(subject: Subject, values: Mapping[str, Array]) -> Tipping:
    """The subject's lumps with the bare tractor's scale readings and CG height [SI] changed.

    What it weighs more or less is the body's: wheels and axle are as their parts say.
    """
    t, w = subject.tipping, subject.machine.weighed
    front, rear, height = (values[name] for name in (FRONT_LOAD, REAR_LOAD, CG_HEIGHT))
    mass = t.mass + front + rear - w.mass
    ahead = t.mass * t.x + (front - w.front_axle) * t.wheelbase
    up = t.mass * t.h + (front + rear) * height - w.mass * w.cg_height
    left = t.mass * t.y + (front + rear - w.mass) * w.cg_offset
    return replace(t, mass=mass, x=ahead / mass, y=left / mass, h=up / mass)


def lift_off_answer(subject: Subject, lengths: Mapping[str, str] | None = None) -> Answer:
    """Lift-off slope on tyres as a function of its inputs.

    Args:
        lengths: further inputs by name, each with the length of the machine that it is.
    """
    further = lengths or {}
    width = subject.machine.rear_tyre.width

    def answer(values: Mapping[str, Array]) -> Array:
        tyres = Tyres(
            front_stiffness=values[FRONT_STIFFNESS],
            rear_stiffness=values[REAR_STIFFNESS],
            lateral_ratio=values[LATERAL],
            section=values[SECTION_WIDTH] * width,
        )
        known = {part: values[name] for name, part in further.items() if name in values}
        tipping = replace(weighed_again(subject, values), **known)
        return np.degrees(lift_off_on_tyres(tipping, tyres))

    return answer


def overturn_answer(subject: Subject) -> Answer:
    """Overturn slope on rigid tyres as a function of its inputs."""

    def answer(values: Mapping[str, Array]) -> Array:
        return np.degrees(overturn_slope(weighed_again(subject, values)))

    return answer


def closed_form_spread(subject: Subject) -> tuple[Interval, Interval]:
    """Lift-off and overturn slope, sampled."""
    known = inputs(subject)
    lift_off = {name: known[name] for name in (*BODY, *TYRE_INPUTS)}
    overturn = {name: known[name] for name in BODY}
    return (
        sampled("lift-off slope", lift_off_answer(subject), lift_off, "on tyres that give"),
        sampled("overturn slope, closed form", overturn_answer(subject), overturn, _NO_TYRES),
    )
