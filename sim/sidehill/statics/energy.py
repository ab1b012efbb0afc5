"""What it takes to tip a machine over from rest on its four wheels (rigid, no losses)."""

import numpy as np

from sidehill.statics.flaw import masked
from sidehill.statics.path import body_cg, first_line, on_stop, whole_cg
from sidehill.statics.slopes import front_lifts_first
from sidehill.statics.tipping import GRAVITY, Tipping
from sidehill.statics.vector import Array, Real, cross, dot, downward


def _first_rise(tipping: Tipping, slope: Real, grade: Real) -> Real:
    """Largest rise of B's weight between four wheels and the stop, per g [kg m]; not below 0."""
    down, axis, cg, stop = (
        downward(slope, grade),
        first_line(tipping),
        body_cg(tipping),
        on_stop(tipping),
    )
    up = dot(axis, down) * dot(axis, cg) - dot(down, cg)
    uphill = -dot(down, cross(axis, cg))
    top_before_stop = (uphill > 0) & (uphill * stop.cos < up * stop.sin)
    at_stop = up * stop.cos + uphill * stop.sin
    top = np.where(top_before_stop, np.hypot(up, uphill), np.maximum(at_stop, up))
    return tipping.mass * (top - up)


def _second_rise(tipping: Tipping, slope: Real, grade: Real) -> Real:
    """Rise of the whole from four wheels to the second barrier, per g [kg m]; 0 if none is left."""
    down, stop = downward(slope, grade), on_stop(tipping)
    start, foot = whole_cg(tipping, body_cg(tipping)), dot(stop.whole, stop.line)
    barrier = -dot(down, cross(stop.line, stop.whole)) > 0
    radius = np.sqrt(dot(stop.whole, stop.whole) - foot * foot)
    along = dot(down, stop.line)
    rise = radius * np.sqrt(1 - along * along) - foot * along + dot(down, start)
    return np.where(barrier, tipping.whole_mass * rise, 0.0)


def energy_to_tip(tipping: Tipping, slope: Real, grade: Real = 0.0) -> Array:
    """Energy from rest on four wheels to the highest point of the two-stage path [J].

    Losses at the stop would add to it. Between the lift-off and the overturn slope no rest on
    four wheels exists; the value there is what the fall onto the stop lacks to carry the machine
    over, 0 from the overturn slope on. NaN where flawed, or where a front wheel lifts first.

    Args:
        slope: [rad] side slope, 0 or more.
        grade: [rad] along the heading, nose up positive.
    """
    rise = np.maximum(_first_rise(tipping, slope, grade), _second_rise(tipping, slope, grade))
    modelled = np.where(front_lifts_first(tipping, grade), np.nan, GRAVITY * rise)
    return masked(modelled, tipping, grade)


def line_inertia(tipping: Tipping) -> Real:
    """Inertia of B about the line from the downhill rear contact to the pin [kg m^2]."""
    axis, cg, tensor = first_line(tipping), body_cg(tipping), tipping.inertia
    own = sum(axis[i] * axis[j] * tensor[..., i, j] for i in range(3) for j in range(3))
    return own + tipping.mass * (dot(cg, cg) - dot(axis, cg) ** 2)


def critical_roll_rate(tipping: Tipping, slope: Real, grade: Real = 0.0) -> Array:
    """Roll rate on four wheels that just carries the machine over [rad/s].

    The rate about the machine's x axis (what a gyro shows) while B turns about the first line:
    a little less than the rate about that line. NaN where flawed or the inertia is unknown.
    """
    spin = np.sqrt(2 * energy_to_tip(tipping, slope, grade) / line_inertia(tipping))
    return spin * first_line(tipping).x


def side_trip_speed(tipping: Tipping, slope: Real, grade: Real = 0.0) -> Array:
    """Speed square to the heading, downhill, at which catching the downhill wheels tips it [m/s].

    The downhill rear wheel and the front axle stop dead; B keeps its angular momentum about the
    line through them. NaN where flawed or the inertia is unknown.
    """
    axis, cg = first_line(tipping), body_cg(tipping)
    spin = np.sqrt(2 * energy_to_tip(tipping, slope, grade) / line_inertia(tipping))
    arm = axis.x * cg.z - axis.z * cg.x
    return spin * line_inertia(tipping) / (tipping.mass * arm)
