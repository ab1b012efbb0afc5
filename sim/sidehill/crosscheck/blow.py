"""What the blow on the axle stop takes from the fall: why the simulation goes over later.

The body falls about the line from the rear contact to the pin. From the blow on, the whole machine
turns about the line through the two downhill contacts. The ground's impulses act on that second
line, so angular momentum about it is kept; kinetic energy is not (textbook mechanics: an impulsive
change of axis). The fall-through slope of `statics` counts no such loss: it is the cautious one.
"""

from math import atan2

import numpy as np
from scipy.optimize import brentq

from sidehill.machine.fitted import Array, Fitted, Part
from sidehill.machine.inertia import about, compose
from sidehill.machine.linkage import rotation
from sidehill.statics.assembly import from_fitted
from sidehill.statics.path import StopPose, body_cg, first_line, on_stop, whole_cg
from sidehill.statics.slopes import lift_off_slope, second_stage_slope
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Vector, downward

_UP = np.array([0.0, 0.0, 1.0])


def kept_share(fitted: Fitted) -> float:
    """Kinetic energy after the blow over that before it, right side downhill."""
    t = from_fitted(fitted)
    stop, first = on_stop(t), _array(first_line(t))
    turn = rotation(first, atan2(float(stop.sin), float(stop.cos)))
    body = about(turn @ t.inertia @ turn.T, float(t.mass), _array(stop.body))
    yaw = rotation(_UP, atan2(turn[1, 0], turn[0, 0]))
    mass, _, tensor = compose(part for part in fitted.parts if _is_on_axle(part))
    own = yaw @ tensor @ yaw.T
    axle = about(own, mass, np.array([t.wheelbase, float(t.rear_track) / 2, float(t.axle_h)]))
    second = _array(stop.line)
    momentum = second @ body @ first  # the axle only yaws, square to that line
    return float(momentum**2 / (second @ (body + axle) @ second * (first @ body @ first)))


def overturn_slope_with_blow(fitted: Fitted) -> float:
    """[rad] fall-through slope with what the blow leaves of the fall; NaN where flawed."""
    t, share = from_fitted(fitted), kept_share(fitted)
    lift, second = float(lift_off_slope(t)), float(second_stage_slope(t))
    if not second > lift or _left_over(t, share, lift) >= 0.0:
        return lift
    return float(brentq(lambda slope: _left_over(t, share, slope), lift, second))


def _left_over(t: Tipping, share: float, slope: float) -> float:
    """[m] of height, for the whole mass: what is left of the fall past the second barrier."""
    down, stop = _array(downward(slope, 0.0)), on_stop(t)
    on_wheels, leaning = _array(whole_cg(t, body_cg(t))), _array(stop.whole)
    return share * float(down @ (leaning - on_wheels)) - _rise(stop, down)


def _rise(stop: StopPose, down: Array) -> float:
    """[m] from the pose on the stop to the top of the second barrier."""
    cg, line = _array(stop.whole), _array(stop.line)
    foot, along = cg @ line, down @ line
    top = np.sqrt((cg @ cg - foot**2) * (1 - along**2)) - foot * along
    return float(top + down @ cg)


def _is_on_axle(part: Part) -> bool:
    return part.link == "front_axle" or part.link.startswith(("knuckle_", "wheel_front_"))


def _array(vector: Vector) -> Array:
    return np.array(vector, dtype=np.float64)
