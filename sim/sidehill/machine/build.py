"""Machine and outfit together: the parts list that everything else computes from."""

from typing import Literal

from sidehill.machine import additions, inertia, loader, suits, tractor
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.notes import notes
from sidehill.machine.outfit import Outfit


def fit(machine: Machine, outfit: Outfit, downhill: Literal["left", "right"] = "right") -> Fitted:
    """The machine in that outfit, plain SI.

    Args:
        downhill: the side that is downhill; only an operator's lean depends on it.

    Raises:
        InputError: the machine lacks what an option needs, or a dimension, height
            or inertia cannot be.
    """
    suits.refuse_misfits(machine, outfit)
    front_track = suits.track(machine, outfit, "front")
    rear_track = suits.track(machine, outfit, "rear")
    item = suits.chosen_attachment(machine, outfit)
    uphill = 1.0 if downhill == "right" else -1.0
    candidates = [
        tractor.body(machine),
        tractor.beam(machine),
        *tractor.wheels(machine, front_track, rear_track),
        additions.operator(machine, outfit, uphill),
        *loader.parts(machine, outfit),
        *additions.ballast(machine, outfit),
        *([additions.attachment(item, outfit)] if item else []),
        *additions.spacers(machine, outfit, front_track, rear_track),
        *additions.wheel_weights(machine, outfit, rear_track),
        *additions.liquids(machine, outfit, front_track, rear_track),
    ]
    owner = machine.file or machine.name
    parts = tuple(inertia.check(part, owner) for part in candidates if part.mass != 0.0)
    swing = outfit.front_axle_swing
    has = machine.loader
    return Fitted(
        machine=machine,
        outfit=outfit,
        parts=parts,
        front_track=front_track,
        rear_track=rear_track,
        swing=machine.front_axle.swing if swing is None else swing,
        arm_angle=loader.arm_angle(has, outfit.bucket_height) if has else 0.0,
        notes=notes(machine, outfit),
        warnings=suits.warnings(machine, outfit, sum(part.mass for part in parts)),
    )
