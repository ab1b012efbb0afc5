"""Lift-off on tyres that give, in closed form: what rigid statics becomes with three signed terms.

At lift-off the downhill rear tyre carries the whole rear axle. It sinks by load over stiffness,
and the body leans by that over the track (unsafe). Its rim moves downhill off its patch by the
axle's side force over the lateral stiffness (unsafe). Leaning on its section, its load moves
outward by lean times the variance of the discs over the sink (cautious). The difference of front
and rear sink pitches the body. First order in all of them: within 0.05 deg of compliant statics
(`rest`) for the shipped machines.
"""

from dataclasses import dataclass, replace

import numpy as np

from sidehill.statics.slopes import lift_off_slope
from sidehill.statics.tipping import GRAVITY, Tipping
from sidehill.statics.vector import Array, Real

_TURNS = 12  # of the fixed point: each takes off nine tenths of what is left
_EDGE = 0.4  # outermost of five discs from the middle, over the width they span
_VARIANCE = 0.08  # of the five discs' places, over that width squared


@dataclass(frozen=True)
class Tyres:
    """What a machine stands on; every field a float or an array, they broadcast."""

    front_stiffness: Real  # [N/m] vertical
    rear_stiffness: Real  # [N/m]
    lateral_ratio: Real  # lateral over vertical stiffness of the rear tyre
    section: Real  # [m] width that the rear tyre stands on


@dataclass(frozen=True)
class Give:
    """What the rear tyre does at lift-off."""

    lean: Array  # [rad] of the body, by sinking
    shift: Array  # [m] of the rim off its patch, downhill
    outward: Array  # [m] of the load on its section, downhill
    pitch: Array  # [rad] nose up


def give(tipping: Tipping, tyres: Tyres, slope: Real) -> Give:
    """Sink, shift and pitch with the uphill rear wheel just unloaded on a slope [rad]."""
    t, share = tipping, tipping.whole_cg.x / tipping.wheelbase
    weight = GRAVITY * t.whole_mass
    rear = weight * (1 - share)
    sink = rear * np.cos(slope) / tyres.rear_stiffness
    front_sink = weight * share * np.cos(slope) / (2 * tyres.front_stiffness)
    lean = sink / (t.rear_track - _EDGE * tyres.section)
    return Give(
        lean=np.asarray(lean),
        shift=np.asarray(rear * np.sin(slope) / (tyres.lateral_ratio * tyres.rear_stiffness)),
        outward=np.asarray(lean * _VARIANCE * tyres.section**2 / sink),
        pitch=np.asarray((sink / 2 - front_sink) / t.wheelbase),
    )


def lift_off_on_tyres(tipping: Tipping, tyres: Tyres) -> Array:
    """Side slope at which the uphill rear wheel's load reaches zero [rad]; NaN where flawed.

    In the body's own axes the ground is steeper by the lean and the downhill contact nearer by
    shift less outward; there the rigid formula holds.
    """
    slope = lift_off_slope(tipping)
    for _ in range(_TURNS):
        found = give(tipping, tyres, slope)
        moved = found.outward - found.shift
        # both halves of the track as wide as the downhill one; the CG stays where it is
        on_tyres = replace(tipping, rear_track=tipping.rear_track + 2 * moved)
        slope = lift_off_slope(on_tyres, found.pitch) - found.lean
    return slope
