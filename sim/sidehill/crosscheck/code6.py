"""Whether a narrow tractor that has tipped over a bank rolls on: the calculation of Code 6.

OECD Code 6, EU 1322/2014 Annex IX and Directive 2010/22/EU; method and example values from
memory. The inputs' letters are the regulation's. It prescribes its own value of gravity and its
own shortcuts; they live here only, `statics` has the exact two-stage kinematics.
"""

from dataclasses import dataclass
from math import atan, cos, hypot, sin, sqrt, tan

import numpy as np

from sidehill.files.errors import InputError
from sidehill.statics.path import body_cg, first_line, whole_cg
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array, Vector, dot, downward, turned

GRAVITY = 9.8  # [m/s^2]
BANK = 0.588  # [rad] A0: 1 in 1.5
RESTITUTION = 0.2  # U
INDENTATION = 0.2  # [m] T: how deep the frame goes into the ground


@dataclass(frozen=True)
class NarrowTractor:
    """What the calculation asks for."""

    cg_height: float  # [m] H1
    cg_to_rear_axle: float  # [m] L3
    cg_to_front_axle: float  # [m] L2
    rear_tyre_diameter: float  # [m] D3
    front_tyre_diameter: float  # [m] D2
    frame_height: float  # [m] H6, of the protective frame's impact point
    frame_behind_cg: float  # [m] L6, of the same point
    frame_width: float  # [m] B6
    pin_height: float  # [m] H0
    rear_track: float  # [m] S; the front track is taken equal to it
    rear_tyre_width: float  # [m] B0
    swing: float  # [rad] D0
    mass: float  # [kg] M
    roll_inertia: float  # [kg m^2] Q, about the CG

    @property
    def half_width(self) -> float:
        """[m] from the middle to the outside of a rear tyre."""
        return (self.rear_track + self.rear_tyre_width) / 2

    def tipping(self) -> Tipping:
        """The same tractor for `statics`: all of its mass rolls with the body."""
        return Tipping(
            mass=self.mass,
            x=self.cg_to_rear_axle,
            y=0.0,
            h=self.cg_height,
            axle_mass=0.0,
            axle_h=self.pin_height,
            wheelbase=self.cg_to_rear_axle + self.cg_to_front_axle,
            pin_height=self.pin_height,
            rear_track=self.rear_track,
            front_track=self.rear_track,
            swing=self.swing,
        )


@dataclass(frozen=True)
class Section:
    """The tractor on its side, cut square to its axis over the tops of the tyres."""

    a2: float  # [rad] bank across that axis
    v0: float  # [m] axis to the frame's impact point
    e4: float  # [m] axis to CG
    q3: float  # [kg m^2] inertia about the CG, along the axis
    d1: float  # [rad] of the CG past the vertical over the axis, tyres down
    d2: float  # [rad] the same, frame in the ground
    xc: float  # [m] CG from the axis down the bank, frame in the ground
    zc: float  # [m] CG off the bank, frame in the ground


@dataclass(frozen=True)
class Roll:
    """Roll rates on the way over, and what they come from."""

    turned_cg: Vector  # [m] on the axle stop, from the downhill rear contact
    w0: float  # [m] of that CG from the line of the downhill contacts
    o0: float  # [rad/s] as the side meets the bank
    o1: float  # [rad/s] after, about the tops of the tyres
    o2: float  # [rad/s] the same, about the tilted axis
    o3: float  # [rad/s] as the frame meets the ground
    o4: float  # [rad/s] after
    section: Section


def roll(tractor: NarrowTractor) -> Roll:
    """Roll rates from tipping about the downhill wheels to after the frame's impact.

    Raises:
        InputError: it does not tip on this bank, it does not come round to its frame, or its
            frame is too low or too wide: cases this calculation has no answer for.
    """
    cg = turned_cg(tractor.tipping())
    if second_stage_slope(tractor.tipping()) >= BANK:
        raise _no_answer("it stands on this bank")
    w0 = hypot(cg.y, cg.z)
    o0 = _meets_bank(tractor, w0)
    taper, k4 = _tyre_top_line(tractor)
    o1 = _after_tyres(tractor, k4, o0)
    o2 = o1 * cos(taper)
    section = _section(tractor, taper, k4)
    o3 = _meets_frame(tractor, section, o2)
    o4 = _after_frame(tractor, section, o3)
    return Roll(cg, w0, o0, o1, o2, o3, o4, section)


def turned_cg(tipping: Tipping) -> Vector:
    """[m] CG from the downhill rear contact, turned by the swing about the line to the pin."""
    cos_swing, sin_swing = np.cos(tipping.swing), np.sin(tipping.swing)
    body = turned(body_cg(tipping), first_line(tipping), cos_swing, sin_swing)
    return whole_cg(tipping, body)


def _no_answer(why: str) -> InputError:
    return InputError(f"Code 6 roll calculation: {why}; it has no answer for this tractor")


def _meets_bank(t: NarrowTractor, w0: float) -> float:
    r1 = hypot(t.half_width, t.cg_height)
    drop = w0 - r1 * cos(BANK + atan(t.cg_height / t.half_width))
    inertia = t.roll_inertia + t.mass * ((w0 + r1) / 2) ** 2
    if drop < 0:
        raise _no_answer("its CG would have to rise to lie on its side")
    return sqrt(2 * t.mass * GRAVITY * drop / inertia)


def _tyre_top_line(t: NarrowTractor) -> tuple[float, float]:
    """F, the taper of the line over the tyre tops [rad], and K4, its height over the CG [m]."""
    wheelbase, radius = t.cg_to_rear_axle + t.cg_to_front_axle, t.rear_tyre_diameter / 2
    taper = 2 * atan((t.rear_tyre_diameter - t.front_tyre_diameter) / (2 * wheelbase))
    k1 = radius * (1 + cos(taper)) + (radius * sin(taper) - t.cg_to_rear_axle) * tan(taper)
    return taper, k1 - t.cg_height


def _after_tyres(t: NarrowTractor, k4: float, o0: float) -> float:
    """O1: the impulse of the change of axis, from the contacts to the tyre tops."""
    own = t.roll_inertia + t.mass * t.half_width**2
    kept = own - t.mass * k4 * (RESTITUTION * k4 + (1 + RESTITUTION) * t.cg_height)
    return o0 * kept / (own + t.mass * k4**2)


def _section(t: NarrowTractor, taper: float, k4: float) -> Section:
    """X down the bank from the axis, Z off the bank."""
    x1, z1 = -k4 * cos(taper), t.half_width
    above = t.frame_height - t.cg_height - k4
    x6 = above * cos(taper) - t.frame_behind_cg * sin(taper)
    z6 = t.half_width - t.frame_width / 2
    if x6 <= 0 or z6 <= 0:
        raise _no_answer(
            f"the frame must reach past the tops of the tyres ({x6:.3f} m here) and be narrower "
            f"than over the tyres ({z6:.3f} m a side here)"
        )
    v0, e4 = hypot(x6, z6), hypot(x1, z1)
    q3 = t.roll_inertia * (cos(taper) ** 2 + 3 * sin(taper) ** 2)  # pitch inertia taken as 3 Q
    a2 = atan(tan(BANK) / sqrt(1 + (tan(taper) / cos(BANK)) ** 2))
    d1 = a2 + atan(x1 / z1)
    d2 = d1 + atan(z6 / x6) + INDENTATION / v0
    return Section(a2, v0, e4, q3, d1, d2, e4 * sin(d2 - a2), e4 * cos(d2 - a2))


def _meets_frame(t: NarrowTractor, s: Section, o2: float) -> float:
    squared_rate = 2 * t.mass * GRAVITY * s.e4 / (s.q3 + t.mass * s.e4**2)  # [1/s^2]
    climb = 1 - cos(min(s.d1, 0.0))  # to the vertical, where the CG is still short of it
    if o2 <= 0 or o2**2 < squared_rate * climb:
        raise _no_answer("it does not come round to its frame")
    return sqrt(o2**2 + squared_rate * (cos(s.d1) - cos(s.d2)))


def _after_frame(t: NarrowTractor, s: Section, o3: float) -> float:
    """O4: the impulse of the change of axis, from the tyre tops to the frame in the ground."""
    k, deep = s.v0 - s.xc, s.zc + INDENTATION
    kept = s.zc * deep - s.xc * k - RESTITUTION * s.v0 * k
    return o3 * (s.q3 + t.mass * kept) / (s.q3 + t.mass * (deep**2 + k**2))


def second_stage_slope(tipping: Tipping) -> Array:
    """Side slope past which it tips on its axle stop, by the regulation's shortcut [rad].

    The body is turned by the swing about the sloping line and the axle does not yaw with it:
    0.3 to 0.5 deg above `statics.slopes.second_stage_slope`, to the unsafe side.
    """
    cg, half = turned_cg(tipping), (tipping.rear_track - tipping.front_track) / 2
    return np.arctan((cg.y - half / tipping.wheelbase * cg.x) / cg.z)


def inclination(tipping: Tipping) -> Array:
    """Roll of the body to the vertical at that balance [rad]; Code 6 asks for at least 38 deg.

    Slope and hinge roll do not simply add up (0.02 deg more): the hinge's axis is not level.
    """
    axis, swing = first_line(tipping), tipping.swing
    across = turned(Vector(0.0, 1.0, 0.0), axis, np.cos(swing), np.sin(swing))
    upright = turned(Vector(0.0, 0.0, 1.0), axis, np.cos(swing), np.sin(swing))
    down = downward(second_stage_slope(tipping), 0.0)
    return np.asarray(np.arctan2(-dot(across, down), -dot(upright, down)))
