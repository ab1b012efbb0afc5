"""The front axle: beam on its pin, and the steering knuckles."""

from math import copysign

from sidehill.machine.fitted import Fitted
from sidehill.urdf.piece import SIDES, Piece, ball, box, rod
from sidehill.urdf.sizes import WheelLayout, wheel_layout

KINGPIN = 0.032  # [m] radius
BOSS = 0.04  # [m] of the stub axle on the far side of its kingpin


def front_axle(fitted: Fitted, kingpin: float) -> list[Piece]:
    """Beam out to the kingpins, at y = +-`kingpin` [m]; in the frame of the pin."""
    plan = wheel_layout(fitted, "front")
    drop = plan.radius + 0.5 * head(plan) - fitted.machine.front_axle.pivot_height
    pieces = [
        rod("pivot boss", "grey", 0.06, (-0.1, 0.0, 0.0), (0.1, 0.0, 0.0)),
        box("beam", "dark grey", (0.10, kingpin, 0.10), (0.0, 0.0, 0.0)),
    ]
    for name, side in SIDES.items():
        start, end = (0.0, side * 0.48 * kingpin, 0.0), (0.0, side * kingpin, drop)
        pieces += [
            rod(f"beam arm {name}", "dark grey", 0.045, start, end),
            ball(f"beam end {name}", "dark grey", 0.045, end),
        ]
    return pieces


def knuckle(plan: WheelLayout, side: float, kingpin: float) -> list[Piece]:
    """Kingpin, stub axle out to the hub flange, steering arm; in the kingpin's frame."""
    tall, hub = head(plan), side * (plan.centre - kingpin) + plan.hub(side)
    return [
        rod("kingpin", "pale grey", KINGPIN, (0.0, 0.0, -tall), (0.0, 0.0, tall)),
        rod("stub axle", "grey", 0.045, (0.0, -copysign(BOSS, hub), 0.0), (0.0, hub, 0.0)),
        rod(
            "steering arm",
            "grey",
            0.015,
            (0.0, 0.0, -0.5 * tall),
            (-0.14, -0.04 * side, -0.5 * tall),
        ),
    ]


def head(plan: WheelLayout) -> float:
    """[m] half the kingpin's length: inside the rim."""
    return 0.6 * plan.rim
