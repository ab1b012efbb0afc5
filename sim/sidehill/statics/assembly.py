"""From a fitted machine to the two lumps that tipping depends on."""

from typing import Literal

import numpy as np

from sidehill.machine.fitted import Fitted, Part
from sidehill.statics.tipping import Tipping
from sidehill.statics.vector import Array

Side = Literal["left", "right"]


def _on_front_axle(part: Part) -> bool:
    return part.link == "front_axle" or part.link.startswith(("knuckle_", "wheel_front_"))


def _centre(parts: list[Part]) -> Array:
    return sum((p.mass * p.cg for p in parts), np.zeros(3)) / sum(p.mass for p in parts)


def _inertia_about(parts: list[Part], point: Array) -> Array:
    """(3, 3) [kg m^2] of all parts together (parallel axes)."""
    total = np.zeros((3, 3))
    for part in parts:
        arm = part.cg - point
        total += part.inertia + part.mass * (arm @ arm * np.eye(3) - np.outer(arm, arm))
    return total


def from_fitted(fitted: Fitted, downhill: Side = "right") -> Tipping:
    """The lumps of one fitted machine.

    Args:
        fitted: as `machine.build.fit` gives it.
        downhill: the side that is downhill.
    """
    axle = [part for part in fitted.parts if _on_front_axle(part)]
    body = [part for part in fitted.parts if not _on_front_axle(part)]
    cg, front = _centre(body), fitted.machine.front_axle
    right = Tipping(
        mass=sum(part.mass for part in body),
        x=float(cg[0]),
        y=float(cg[1]),
        h=float(cg[2]),
        axle_mass=sum(part.mass for part in axle),
        axle_h=float(_centre(axle)[2]),
        wheelbase=fitted.machine.body.wheelbase,
        pin_height=front.pivot_height,
        rear_track=fitted.rear_track,
        front_track=fitted.front_track,
        swing=fitted.swing,
        inertia=_inertia_about(body, cg),
    )
    return right if downhill == "right" else right.mirrored()
