"""The rungs on rigid tyres: closed form."""

from dataclasses import replace
from math import atan, degrees

from sidehill.crosscheck.rung import Rung
from sidehill.files.known import known_degrees
from sidehill.spread.subject import AXLES, Subject
from sidehill.statics.slopes import (
    lift_off_slope,
    overturn_slope,
    rigid_slope,
    second_stage_slope,
)
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Real

_ON_THE_GROUND = 1e-9  # [m] height of a pin at ground level

FOUR_WHEELS = Rung(
    name="rigid four-wheel, T/2h",
    assumption="The front axle cannot swing and nothing gives: over goes the whole machine at "
    "once, about the line through the two downhill contacts.",
    fails="Always, on a pivoting front axle: until its stop that carries no roll moment. Unsafe.",
    over=None,
)
GROUND_TRIANGLE = Rung(
    name="triangle, pin at ground level",
    assumption="The machine stands on three points: two rear contacts and the middle of the front "
    "axle, on the ground.",
    fails="Where the pin is higher than the ground, which it is: too cautious by several degrees.",
    over=FOUR_WHEELS.name,
)
PIN_TRIANGLE = Rung(
    name="triangle, pin at its height",
    assumption="The same triangle with its front corner at the pivot pin.",
    fails="Where the front axle, which does not roll with the body, weighs something.",
    over=GROUND_TRIANGLE.name,
)
AXLE_MASS = Rung(
    name="+ axle mass",
    assumption="Only the body rolls; the front axle assembly stays flat on the ground.",
    fails="Where the axle stop catches the body: past lift-off there is a second stage.",
    over=PIN_TRIANGLE.name,
)
STOP = Rung(
    name="+ stop, lowered gently",
    assumption="The body is let down onto the axle stop as if by hand; then the whole machine tips "
    "about the two downhill contacts.",
    fails="Nobody lets it down: it falls. Never a limit to quote, except where it is lower.",
    over=AXLE_MASS.name,
)
FALL = Rung(
    name="+ the fall onto the stop",
    assumption="From lift-off the body falls onto its stop, and no energy is lost on the way.",
    fails="Where the blow on the stop loses energy (cautious), and where tyres give (unsafe).",
    over=STOP.name,
)
RIGID = (FOUR_WHEELS, GROUND_TRIANGLE, PIN_TRIANGLE, AXLE_MASS, STOP, FALL)


def rigid_rungs(subject: Subject) -> tuple[Rung, ...]:
    """The six rungs on rigid tyres; what cannot be computed says why."""
    if subject.flaw:
        return tuple(replace(rung, missing=subject.flaw) for rung in RIGID)
    lack = subject.lacks(AXLES)
    if lack is not None:
        return (_bare_four_wheels(subject, lack), *(replace(r, missing=lack) for r in RIGID[1:]))
    t = subject.tipping
    rigid = known_degrees(rigid_slope(t))
    lift, second = known_degrees(lift_off_slope(t)), known_degrees(second_stage_slope(t))
    over = known_degrees(overturn_slope(t))
    ground, pin = (
        known_degrees(lift_off_slope(_all_on_body(t, p))) for p in (_ON_THE_GROUND, t.pin_height)
    )
    gently = None if lift is None or second is None else max(lift, second)
    return (
        replace(FOUR_WHEELS, lift_off=rigid, overturn=rigid),
        replace(GROUND_TRIANGLE, lift_off=ground, overturn=ground),
        replace(PIN_TRIANGLE, lift_off=pin, overturn=pin),
        replace(AXLE_MASS, lift_off=lift, overturn=lift),
        replace(STOP, lift_off=lift, second_stage=second, overturn=gently),
        replace(FALL, lift_off=lift, second_stage=second, overturn=over),
    )


def _bare_four_wheels(subject: Subject, lack: str) -> Rung:
    """T/2h needs no axle load, if it is asked of the bare tractor alone."""
    machine = subject.machine
    slope = degrees(atan(machine.rear_tyre.track / 2 / machine.weighed.cg_height))
    note = f"of the bare tractor, without operator or outfit: {lack}"
    return replace(FOUR_WHEELS, lift_off=slope, overturn=slope, missing=note)


def _all_on_body(t: Tipping, pin_height: Real) -> Tipping:
    """All mass rolls with the body, the pin at that height [m]."""
    cg = t.whole_cg
    return replace(
        t,
        mass=t.whole_mass,
        x=cg.x,
        y=cg.y,
        h=cg.z,
        axle_mass=0.0,
        pin_height=pin_height,
    )
