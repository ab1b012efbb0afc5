"""How much ballast a rear axle has room for."""

from sidehill.advice.axles import axle_ratings
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.axles import axle_loads

MOST_BALLAST = 500.0  # [kg] where the file has no rating of the rear axle; chosen


def ballast_left(machine: Machine, outfit: Outfit, place: float) -> float:
    """[kg] of a box at that place [m] that brings the rear axle to its rating on the level."""
    rating = axle_ratings(machine)[1]
    if rating is None:
        return MOST_BALLAST
    rear = axle_loads(fit(machine, outfit.with_values({"rear_ballast": 0.0})))[1]
    a_kilogram = 1.0 - place / machine.body.wheelbase
    return max(rating - rear, 0.0) / a_kilogram
