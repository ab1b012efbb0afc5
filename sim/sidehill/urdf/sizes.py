"""Stations and sizes that several drawings share, from the machine's own dimensions."""

from dataclasses import dataclass
from math import asin, pi, sqrt

from scipy.optimize import brentq

from sidehill.machine.fitted import Fitted
from sidehill.machine.liquid import rim_radius

IRON = 7200.0  # [kg/m^3] cast iron, for the size of weights (textbook value)
FIGURE_CG = 0.24  # [m] a seated figure's CG above the seat cushion
DISC_OF_HUB = 0.55  # rim disc over bearing, both measured inboard of the tyre centre
KNEE_ROOM = 0.62  # [m] from the seated CG to the dashboard


@dataclass(frozen=True)
class WheelLayout:
    """One axle's wheel; lateral stations are distances from the tyre's centre plane."""

    radius: float  # [m]
    width: float  # [m]
    rim: float  # [m] rim radius
    shoulder: float  # [m] radius where the sidewall reaches its full width
    lug: float  # [m] lug height
    lug_thickness: float  # [m]
    lugs: int  # a side
    disc: float  # [m] rim disc, inboard of the centre plane
    spacer: float  # [m] thickness
    weight_thickness: float  # [m] wheel weight
    liquid_level: float  # [m] surface above the wheel centre; -radius when dry
    centre: float  # [m] centre plane from the machine's
    standard: float  # [m] the same, without spacer or track override

    def hub(self, side: float) -> float:
        """y [m] of the hub's face from the centre plane; `side` is LEFT or RIGHT."""
        return -side * (self.disc + self.spacer)


@dataclass(frozen=True)
class BodyLayout:
    """Machine frame."""

    nose: float  # [m] x of the hood's front
    dash: float  # [m] x of the hood's rear
    tail: float  # [m] x of the rearmost frame member
    hood_low: float  # [m]
    hood_high: float  # [m]
    hood_half: float  # [m] half width
    floor: float  # [m] platform height
    seat: float  # [m] cushion height
    seat_x: float  # [m] seated CG
    seat_half: float  # [m] half width, between the roll bar's posts
    rail: float  # [m] height of the frame rails' centre
    fender_inner: float  # [m] |y|
    fender_outer: float  # [m] |y|


def wheel_layout(fitted: Fitted, axle: str) -> WheelLayout:
    """The `front` or `rear` wheels as fitted."""
    machine, outfit = fitted.machine, fitted.outfit
    rear = axle == "rear"
    tyre = machine.rear_tyre if rear else machine.front_tyre
    spacer = max(outfit.rear_spacer if rear else outfit.front_spacer, 0.0)
    fill = outfit.rear_fill if rear else outfit.front_fill
    weight = outfit.rear_wheel_weight if rear else 0.0
    track = fitted.rear_track if rear else fitted.front_track
    radius, rim = tyre.radius, rim_radius(tyre)
    return WheelLayout(
        radius=radius,
        width=tyre.width,
        rim=rim,
        shoulder=rim + 0.45 * (radius - rim),
        lug=min(0.055 * radius, 0.15 * (radius - rim)),
        lug_thickness=0.14 * tyre.width,
        lugs=round(2 * pi * radius / (0.75 * tyre.width)),
        disc=DISC_OF_HUB * (tyre.hub_offset or 0.0) + (track - tyre.track) / 2 - spacer,
        spacer=spacer,
        weight_thickness=weight / (IRON * pi * (0.78 * rim) ** 2),
        liquid_level=_level(rim / radius, fill) * radius,
        centre=track / 2,
        standard=tyre.track / 2,
    )


def body_layout(fitted: Fitted) -> BodyLayout:
    """Hood, platform and fenders, clear of the wheels and of the loader's arms."""
    machine, rear = fitted.machine, wheel_layout(fitted, "rear")
    overhang = machine.body.length - machine.body.wheelbase
    front = wheel_layout(fitted, "front")
    seat = machine.seat.height - FIGURE_CG
    nose = machine.body.wheelbase + 0.42 * overhang
    if machine.ballast.front is not None:
        nose = min(nose, machine.ballast.front[0] - 0.12)
    half = 0.27 * machine.body.width
    if machine.loader is not None:
        half = min(half, machine.loader.frame_width / 2 - 0.12)
    tyre_inner = min(rear.centre, rear.standard) - rear.width / 2
    return BodyLayout(
        nose=nose,
        dash=machine.seat.x + KNEE_ROOM,
        tail=-0.58 * overhang,
        hood_low=max(machine.front_axle.pivot_height + 0.17, 1.94 * front.radius),
        hood_high=min(0.82 * machine.body.height, seat + 0.42),
        hood_half=half,
        floor=max(seat - 0.36, 0.55 * rear.radius),
        seat=seat,
        seat_x=machine.seat.x,
        seat_half=max(min(0.22, tyre_inner - 0.12), 0.1),
        rail=max(machine.front_axle.pivot_height + 0.12, 0.95 * rear.radius),
        fender_inner=tyre_inner - 0.03,
        fender_outer=tyre_inner + 0.8 * rear.width,
    )


def _level(rim: float, fill: float) -> float:
    """Height of the liquid's surface above the wheel centre, for a tyre of radius 1."""
    if fill in (0.0, 1.0):
        return 2.0 * fill - 1.0
    ring = pi * (1.0 - rim**2)
    return float(brentq(lambda z: _below(z, 1.0) - _below(z, rim) - fill * ring, -1.0, 1.0))


def _below(height: float, radius: float) -> float:
    """Area of a circle below a height above its centre."""
    if abs(height) >= radius:
        return pi * radius**2 if height > 0.0 else 0.0
    half = radius**2 * (pi / 2 + asin(height / radius))
    return half + height * sqrt(radius**2 - height**2)
