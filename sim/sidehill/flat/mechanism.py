"""What a machine in its outfit is to a run, whatever the course: made once, then kept."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from sidehill.flat.model import about_joint, flat_model, loader_inertias
from sidehill.kernels.layout import Records
from sidehill.machine.build import fit
from sidehill.machine.file import Machine
from sidehill.machine.fitted import Array, Fitted
from sidehill.machine.linkage import Link, build_linkage
from sidehill.machine.loader import arm_angle
from sidehill.machine.outfit import Outfit
from sidehill.statics.assembly import from_fitted
from sidehill.statics.loads import balance

LEAST_SHARE = 0.01  # of the weight, that a wheel is damped for if it carries less standing level
KEPT = 64  # mechanisms; a search of limits runs tens of times on one


@dataclass(frozen=True, eq=False)
class Mechanism:
    """Moving bodies, and what of them the settings of a run depend on."""

    fitted: Fitted
    links: tuple[Link, ...]
    model: Records  # (1,) MODEL; copy it before changing it
    moving: tuple[str, ...]  # link names of the bodies, in order
    level_loads: Array  # (4,) [N] wheel loads on level ground, front left first; above zero
    axle: float  # [kg m^2] about the pin of the front axle
    knuckle: float  # [kg m^2] about a kingpin
    lifted: tuple[float, ...]  # [kg m^2] about the arm's and the bucket's pin, where they move


@lru_cache(maxsize=KEPT)
def mechanism(
    machine: Machine,
    outfit: Outfit,
    downhill: Literal["left", "right"],
    heights: tuple[float | str, ...],
) -> Mechanism:
    """The mechanism of a machine in an outfit.

    Machines that are equal share one, whatever they leave to defaults: notes are not its own.

    Args:
        heights: those that the loader moves through during the run, the first one first; none:
            it stays as fitted.

    Raises:
        InputError: the outfit does not suit the machine.
    """
    loader = machine.loader
    moved = tuple(outfit.bucket_height if at == "as fitted" else at for at in heights)
    moves = loader is not None and bool(moved)
    built = outfit.with_values({"bucket_height": moved[0]}) if moves else outfit
    angles = [arm_angle(loader, height) for height in moved] if loader is not None else []
    fitted = fit(machine, built, downhill)
    links = build_linkage(fitted, moving_loader=moves, hung=False)
    model, moving = flat_model(links)
    return Mechanism(
        fitted=fitted,
        links=links,
        model=model,
        moving=moving,
        level_loads=_level_loads(fitted),
        axle=about_joint(links, "front_axle"),
        knuckle=about_joint(links, "knuckle_left"),
        lifted=loader_inertias(links, angles) if moves else (),
    )


def _level_loads(fitted: Fitted) -> Array:
    """(4,) [N] on level ground; if it goes over even there, what its run starts from."""
    front_right, front_left, rear_right, rear_left = balance(from_fitted(fitted), 0.0, 0.0)
    loads = np.array([front_left, front_right, rear_left, rear_right], dtype=float)
    return np.asarray(np.maximum(loads, LEAST_SHARE * loads.sum()))
