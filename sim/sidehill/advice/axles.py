"""What the axles carry at most, and what they should."""

from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Fitted
from sidehill.machine.outfit import Outfit
from sidehill.statics.axles import axle_loads

FRONT_SHARE = 0.20  # of the mass, for steering (published: implement manuals)
REAR_SHARE = 0.25  # of the mass, with the bucket full (common practice, no source)


def heaviest_axle_loads(fitted: Fitted, steepest_grade: float) -> tuple[float, float]:
    """[kg] the most that front and rear carry on the level and on that grade, either way."""
    loads = [axle_loads(fitted, grade) for grade in (0.0, steepest_grade, -steepest_grade)]
    return max(front for front, _ in loads), max(rear for _, rear in loads)


def axle_ratings(machine: Machine) -> tuple[float | None, float | None]:
    """[kg] of the front and the rear axle, where the file has them."""
    limits = machine.limits
    return (None, None) if limits is None else (limits.front_axle, limits.rear_axle)


def front_share(fitted: Fitted, grade: float = 0.0) -> float:
    """Part of the load that the front axle carries; the rear one carries the rest."""
    front, rear = axle_loads(fitted, grade)
    return front / (front + rear)


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
