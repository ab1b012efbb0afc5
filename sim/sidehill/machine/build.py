"""Machine and outfit together: the parts list that everything else computes from."""

from typing import Literal

from sidehill.machine import additions, inertia, loader, suits, tractor
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted, Part
from sidehill.machine.outfit import Outfit

LEAST_MASS = 1e-3  # [kg] less than a gram is nothing


def fit(machine: Machine, outfit: Outfit, downhill: Literal["left", "right"] = "right") -> Fitted:
    """The machine in that outfit, plain SI.

    Args:
        downhill: the side that is downhill; only an operator's lean depends on it.

    Raises:
        InputError: the machine lacks what an option needs, or a dimension, height
            or inertia cannot be.
    """
    suits.refuse_misfits(machine, outfit)
    tracks = suits.track(machine, outfit, "front"), suits.track(machine, outfit, "rear")
    axle = tractor.front_axle(machine)
    bare = [tractor.body(machine, axle), *axle, *tractor.wheels(machine, *tracks)]
    added = [part for part in _added(machine, outfit, downhill, *tracks) if part.mass > LEAST_MASS]
    parts = (*bare, *added)
    inertia.check(parts, machine.file or machine.name)
    swing, has = outfit.front_axle_swing, machine.loader
    return Fitted(
        machine=machine,
        outfit=outfit,
        parts=parts,
        front_track=tracks[0],
        rear_track=tracks[1],
        swing=machine.front_axle.swing if swing is None else swing,
        arm_angle=loader.arm_angle(has, outfit.bucket_height) if has else 0.0,
        warnings=suits.warnings(machine, outfit, sum(part.mass for part in parts)),
    )


def _added(
    machine: Machine, outfit: Outfit, downhill: str, front_track: float, rear_track: float
) -> list[Part]:
    """What the outfit puts on the bare tractor; options left at nothing have no mass."""
    item = suits.chosen_attachment(machine, outfit)
    return [
        additions.operator(machine, outfit, uphill=1.0 if downhill == "right" else -1.0),
        *loader.parts(machine, outfit),
        *additions.ballast(machine, outfit),
        *([additions.attachment(item, outfit)] if item else []),
        *additions.spacers(machine, outfit, front_track, rear_track),
        *additions.wheel_weights(machine, outfit, rear_track),
        *additions.liquids(machine, outfit, front_track, rear_track),
    ]
