"""From a fitted machine to the two lumps that tipping depends on."""

from typing import Literal

from sidehill.machine.fitted import Fitted, Part
from sidehill.machine.inertia import compose_groups
from sidehill.statics.tipping import Tipping

Side = Literal["left", "right"]


def _on_front_axle(part: Part) -> bool:
    return part.link == "front_axle" or part.link.startswith(("knuckle_", "wheel_front_"))


def from_fitted(fitted: Fitted, downhill: Side = "right") -> Tipping:
    """The lumps of one fitted machine.

    Args:
        fitted: as `machine.build.fit` gives it.
        downhill: the side that is downhill.
    """
    ends = ["axle" if _on_front_axle(part) else "body" for part in fitted.parts]
    lumps = compose_groups(fitted.parts, ends)
    body, axle, front = lumps["body"], lumps["axle"], fitted.machine.front_axle
    x, y, h = body.cg.tolist()
    right = Tipping(
        mass=body.mass,
        x=x,
        y=y,
        h=h,
        axle_mass=axle.mass,
        axle_h=float(axle.cg[2]),
        wheelbase=fitted.machine.body.wheelbase,
        pin_height=front.pivot_height,
        rear_track=fitted.rear_track,
        front_track=fitted.front_track,
        swing=fitted.swing,
        inertia=body.inertia,
    )
    return right if downhill == "right" else right.mirrored()
