"""The bare tractor as parts: scale readings less wheels and front axle leave the body."""

import numpy as np

from sidehill.machine import inertia
from sidehill.machine.file import Machine, Tyre
from sidehill.machine.fitted import Array, Part
from sidehill.machine.liquid import rim_radius

SIDES = {"left": 1.0, "right": -1.0}
_HUB_SHARE = 0.10  # of the axle without wheels, that turns with each kingpin (estimated)
_HUB_SIZE = 0.15  # [m]
_BEAM_SECTION = 0.10  # [m] the axle beam's estimated thickness


def tyre_part(tyre: Tyre, end: str, side: str, x: float, track: float) -> Part:
    """One tyre on its rim, a ring about its axle."""
    return Part(
        f"tyre_{end}_{side}",
        f"wheel_{end}_{side}",
        tyre.mass,
        np.array([x, SIDES[side] * track / 2.0, tyre.radius]),
        inertia.ring(tyre.mass, tyre.radius, rim_radius(tyre), tyre.width),
    )


def wheels(machine: Machine, front_track: float, rear_track: float) -> list[Part]:
    """The four tyres at those tracks [m]."""
    return [
        tyre_part(machine.front_tyre, "front", side, machine.body.wheelbase, front_track)
        for side in SIDES
    ] + [tyre_part(machine.rear_tyre, "rear", side, 0.0, rear_track) for side in SIDES]


def kingpin(machine: Machine) -> float:
    """[m] from the centre line to each kingpin: in the standard wheel's plane less its offset."""
    return machine.front_tyre.track / 2.0 - (machine.front_tyre.hub_offset or 0.0)


def front_axle(machine: Machine) -> list[Part]:
    """The front axle without its wheels: a bar across the track, and a hub at each kingpin."""
    axle, tyre, x = machine.front_axle, machine.front_tyre, machine.body.wheelbase
    mass = axle.mass - 2.0 * tyre.mass
    hub_mass = _HUB_SHARE * mass
    beam_mass = mass - 2.0 * hub_mass
    wheels_height = 2.0 * (tyre.mass + hub_mass) * tyre.radius
    place = np.array([x, 0.0, (axle.mass * axle.cg_height - wheels_height) / beam_mass])
    bar = inertia.box(beam_mass, _BEAM_SECTION, tyre.track, _BEAM_SECTION)
    hub = inertia.box(hub_mass, _HUB_SIZE, _HUB_SIZE, _HUB_SIZE)
    return [
        Part("beam", "front_axle", beam_mass, place, bar),
        *(
            Part(
                f"hub_{side}",
                f"knuckle_{side}",
                hub_mass,
                np.array([x, sign * kingpin(machine), tyre.radius]),
                hub,
            )
            for side, sign in SIDES.items()
        ),
    ]


def body(machine: Machine, axle: list[Part]) -> Part:
    """Everything of the bare tractor that rolls with the chassis, less the rear tyres.

    Args:
        axle: the front axle without its wheels.
    """
    front, rear = machine.front_tyre.track, machine.rear_tyre.track
    taken = [*axle, *wheels(machine, front, rear)]
    return inertia.remainder("body", "chassis", _whole(machine), taken)


def _whole(machine: Machine) -> Part:
    weighed, size = machine.weighed, machine.body
    x = weighed.front_axle * size.wheelbase / weighed.mass
    own: Array = inertia.box(weighed.mass, size.length, size.width, size.height)
    if weighed.roll_inertia is not None:
        own[0, 0] = weighed.roll_inertia
    place = np.array([x, weighed.cg_offset, weighed.cg_height])
    return Part("tractor", "chassis", weighed.mass, place, own)
