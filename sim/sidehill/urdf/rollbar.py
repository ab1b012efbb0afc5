"""The roll bar, up or folded back: a hoop of tubes on the rear axle. Its mass is the tractor's."""

from itertools import pairwise
from math import cos, radians, sin

import numpy as np

from sidehill.machine.file import Rops
from sidehill.machine.fitted import Fitted
from sidehill.urdf.piece import SIDES, Array, Piece, ball, rod, shifted
from sidehill.urdf.sizes import body_layout, wheel_layout

TUBE = 0.033  # [m] radius
CORNER = 0.12  # [m] cut off each upper corner
FOLD = radians(100.0)  # back from upright


def rollbar(fitted: Fitted) -> list[Piece]:
    """Posts from the axle housing, hinges, and the hoop above them."""
    rops = fitted.machine.rops
    if rops is None:
        return []
    rear, plan = wheel_layout(fitted, "rear"), body_layout(fitted)
    foot = min(rops.width / 2, plan.fender_inner - 1.2 * TUBE)
    flare = 2 * rear.radius + 0.1
    spread = flare + 0.05 + 2 * (rops.width / 2 - foot)
    hinge = hinge_height(rops)
    pieces = []
    for name, side in SIDES.items():
        path = [
            np.array([rops.x, side * y, z])
            for y, z in (
                (foot, rear.radius),
                (foot, min(flare, hinge - 0.1)),
                (rops.width / 2, min(spread, hinge - 0.05)),
                (rops.width / 2, hinge),
            )
        ]
        pieces += tubes(f"post {name}", path)
        pin = (shifted(path[-1], y=-0.05), shifted(path[-1], y=0.05))
        pieces.append(rod(f"hinge {name}", "pale grey", 1.3 * TUBE, *pin))
    return pieces + tubes("hoop", hoop(rops, hinge, fitted.outfit.rops == "folded"))


def hinge_height(rops: Rops) -> float:
    """[m] height at which the bar folds: folded, nothing stands above the hinge."""
    folded = rops.folded_height or 0.65 * rops.height
    return min(folded - 1.3 * TUBE, rops.height - TUBE - 2 * CORNER)


def hoop(rops: Rops, hinge: float, folded: bool) -> list[Array]:
    """Corner points of the part above the hinges, left to right."""
    rise, half = rops.height - TUBE - hinge, rops.width / 2
    turn = FOLD if folded else 0.0
    outline = (
        (half, 0.0), (half, rise - CORNER), (half - CORNER, rise),
        (CORNER - half, rise), (-half, rise - CORNER), (-half, 0.0),
    )  # fmt: skip
    return [np.array([rops.x - r * sin(turn), y, hinge + r * cos(turn)]) for y, r in outline]


def tubes(name: str, path: list[Array]) -> list[Piece]:
    """Rods along a path, with balls at the bends."""
    pieces = [
        rod(f"{name} {k + 1}", "dark grey", TUBE, *ends) for k, ends in enumerate(pairwise(path))
    ]
    return pieces + [
        ball(f"{name} bend {k + 1}", "dark grey", TUBE, point) for k, point in enumerate(path[1:-1])
    ]
