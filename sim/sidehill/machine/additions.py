"""What an outfit adds to the bare tractor: operator, ballast, attachment, spacers, liquid."""

import numpy as np

from sidehill.machine import inertia
from sidehill.machine.file import Attachment, Machine, Tyre
from sidehill.machine.fitted import Array, Part
from sidehill.machine.liquid import pool, rim_radius, volume
from sidehill.machine.outfit import Outfit
from sidehill.machine.tractor import SIDES

_SEATED = (0.50, 0.45, 0.85)  # [m] box of a seated person
_ATTACHMENT_DEEP, _ATTACHMENT_HIGH = 0.60, 0.50  # [m] estimated size of an attachment
_BOX_DENSITY = 2300.0  # [kg/m^3] concrete
_WEIGHT_DENSITY = 7200.0  # [kg/m^3] cast iron
_WEIGHT_THICK = 0.06  # [m] of a wheel weight
_SPACER_RADIUS = 0.12  # [m]


def operator(machine: Machine, outfit: Outfit, uphill: float) -> Part:
    """The person on the seat; a lean is toward uphill (+1 left, -1 right)."""
    place = np.array([machine.seat.x, uphill * outfit.operator_lean, machine.seat.height])
    return Part(
        "operator", "chassis", outfit.operator, place, inertia.box(outfit.operator, *_SEATED)
    )


def ballast(machine: Machine, outfit: Outfit) -> list[Part]:
    """Rear box and front weight, where the file says they sit."""
    lumps = (
        ("rear_ballast", outfit.rear_ballast, machine.ballast.rear_box, _BOX_DENSITY),
        ("front_weight", outfit.front_weight, machine.ballast.front, _WEIGHT_DENSITY),
    )
    return [
        Part(name, "chassis", mass, np.array([at[0], 0.0, at[1]]), inertia.cube(mass, density))
        for name, mass, at, density in lumps
        if mass > 0.0 and at is not None
    ]


def attachment(item: Attachment, outfit: Outfit) -> Part:
    """An attachment carried by the tractor, raised or at working height."""
    lift = item.lift_height if outfit.attachment_at == "raised" else 0.0
    place = np.array([item.cg[0], 0.0, item.cg[1] + lift])
    own = inertia.box(item.mass, _ATTACHMENT_DEEP, item.width, _ATTACHMENT_HIGH)
    return Part("attachment", "chassis", item.mass, place, own)


def spacers(machine: Machine, outfit: Outfit, front_track: float, rear_track: float) -> list[Part]:
    """One per wheel, just inside the tyre's centre plane, where the wheel disc is taken."""
    return [
        part
        for end, x, tyre, thickness, track in (
            ("front", machine.body.wheelbase, machine.front_tyre, outfit.front_spacer, front_track),
            ("rear", 0.0, machine.rear_tyre, outfit.rear_spacer, rear_track),
        )
        for part in _pair_of_spacers(
            end,
            outfit.mass_of_spacer(thickness),
            thickness,
            np.array([x, track / 2.0, tyre.radius]),
        )
    ]


def _pair_of_spacers(end: str, mass: float, thickness: float, wheel: Array) -> list[Part]:
    if mass == 0.0:
        return []
    own = inertia.ring(mass, _SPACER_RADIUS, 0.0, max(thickness, 0.0))
    inward = np.array([0.0, thickness / 2.0, 0.0])
    return [
        Part(
            f"spacer_{end}_{side}",
            f"wheel_{end}_{side}",
            mass,
            (wheel - inward) * np.array([1.0, sign, 1.0]),
            own,
        )
        for side, sign in SIDES.items()
    ]


def wheel_weights(machine: Machine, outfit: Outfit, rear_track: float) -> list[Part]:
    """Discs in the rear rims."""
    tyre, mass = machine.rear_tyre, outfit.rear_wheel_weight
    if mass == 0.0:
        return []
    own = inertia.ring(mass, rim_radius(tyre), 0.0, _WEIGHT_THICK)
    return [
        Part(
            f"wheel_weight_rear_{side}",
            f"wheel_rear_{side}",
            mass,
            np.array([0.0, sign * rear_track / 2.0, tyre.radius]),
            own,
        )
        for side, sign in SIDES.items()
    ]


def liquids(machine: Machine, outfit: Outfit, front_track: float, rear_track: float) -> list[Part]:
    """Liquid in the tyres: below the axle centre, and not turning with the wheel."""
    wheelbase, density = machine.body.wheelbase, outfit.liquid_density
    return _pair_of_liquids(
        "front", machine.front_tyre, outfit.front_fill, density, wheelbase, front_track
    ) + _pair_of_liquids("rear", machine.rear_tyre, outfit.rear_fill, density, 0.0, rear_track)


def _pair_of_liquids(
    end: str, tyre: Tyre, fill: float, density: float, x: float, track: float
) -> list[Part]:
    if fill == 0.0:
        return []
    mass = fill * density * volume(tyre)
    lies = pool(fill, tyre.radius, rim_radius(tyre), tyre.width)
    return [
        Part(
            f"liquid_{end}_{side}",
            "chassis" if end == "rear" else f"knuckle_{side}",
            mass,
            np.array([x, sign * track / 2.0, tyre.radius - lies.drop]),
            mass * lies.inertia,
        )
        for side, sign in SIDES.items()
    ]
