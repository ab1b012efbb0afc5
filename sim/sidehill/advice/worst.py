"""The outfit at its worst for steering, and at its worst for the rear axle's load."""

from sidehill.advice.axles import front_share
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit


def least_front_share(machine: Machine, outfit: Outfit, steepest_grade: float) -> float:
    """Front share with the bucket empty, nose up on the grade; least over the bucket's heights.

    Ballast stays on: an empty bucket with the rear box on is the worst for steering.
    """
    empty = outfit.with_values({"bucket_load": 0.0})
    return min(
        front_share(fit(machine, pose), steepest_grade) for pose in bucket_poses(machine, empty)
    )


def least_rear_share(machine: Machine, outfit: Outfit) -> float | None:
    """Rear share on the level with the bucket full, least over its heights; None without loader.

    Full is the rated load, or the outfit's own where that is more.
    """
    if machine.loader is None:
        return None
    load = max(machine.loader.rated_load, outfit.bucket_load)
    full = outfit.with_values({"bucket_load": load})
    return min(1.0 - front_share(fit(machine, pose)) for pose in bucket_poses(machine, full))


def bucket_poses(machine: Machine, outfit: Outfit) -> list[Outfit]:
    """The outfit with its bucket as it is, carried, full up, and passing its furthest reach."""
    loader = machine.loader
    if loader is None:
        return [outfit]
    furthest = min(max(loader.arm_pivot[1], loader.carry_height), loader.full_height)
    heights = (outfit.bucket_height, loader.carry_height, furthest, loader.full_height)
    return [outfit.with_values({"bucket_height": height}) for height in heights]
