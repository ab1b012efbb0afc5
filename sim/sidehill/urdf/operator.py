"""The belted figure on the seat: an adult of 1.75 m, on the chassis."""

from math import radians

import numpy as np

from sidehill.machine.fitted import Fitted
from sidehill.urdf.piece import SIDES, Array, Piece, ball, box, rod, shifted
from sidehill.urdf.sizes import BodyLayout, body_layout
from sidehill.urdf.station import rim_point


def operator(fitted: Fitted) -> list[Piece]:
    """Nobody when the outfit carries no operator."""
    if fitted.outfit.operator <= 0.0:
        return []
    plan = body_layout(fitted)
    lean = float(fitted.part("operator").cg[1])
    hip = np.array([plan.seat_x - 0.1, 0.0, plan.seat + 0.1])
    shoulder = shifted(hip, x=-0.05, y=1.6 * lean, z=0.44)
    pieces = trunk(hip, shoulder)
    for name, side in SIDES.items():
        pieces += [*leg(name, side, hip, plan), *arm(name, side, shoulder, plan)]
    return pieces


def trunk(hip: Array, shoulder: Array) -> list[Piece]:
    """Pelvis, chest, head with a helmet, and the belt."""
    chest = hip + 0.62 * (shoulder - hip)
    head = shifted(shoulder, x=0.02, z=0.22)
    return [
        box("pelvis", "overalls", (0.22, 0.34, 0.18), hip),
        box("waist", "overalls", (0.19, 0.30, 0.30), hip + 0.4 * (shoulder - hip), pitch=-0.1),
        box("chest", "overalls", (0.22, 0.36, 0.30), chest, pitch=-0.1),
        rod("shoulders", "overalls", 0.075, shifted(shoulder, y=-0.17), shifted(shoulder, y=0.17)),
        rod("neck", "skin", 0.05, shoulder, head),
        ball("head", "skin", 0.105, head),
        ball("helmet", "helmet", 0.115, shifted(head, x=-0.012, z=0.035)),
        box(
            "lap belt",
            "belt",
            (0.25, 0.37, 0.06),
            shifted(hip, x=0.02, z=0.05),
            pitch=radians(25.0),
        ),
    ]


def leg(name: str, side: float, hip: Array, plan: BodyLayout) -> list[Piece]:
    """Thigh, shin and boot, the sole on the floor."""
    start = shifted(hip, x=0.05, y=side * 0.09, z=-0.01)
    knee = shifted(hip, x=0.44, y=side * 0.15, z=0.02)
    ankle = np.array([min(knee[0] + 0.08, plan.dash - 0.2), side * 0.17, plan.floor + 0.09])
    return [
        rod(f"thigh {name}", "overalls", 0.08, start, knee),
        ball(f"knee {name}", "overalls", 0.078, knee),
        rod(f"shin {name}", "overalls", 0.06, knee, ankle),
        box(f"boot {name}", "boot", (0.27, 0.1, 0.09), shifted(ankle, x=0.06, z=-0.045)),
    ]


def arm(name: str, side: float, shoulder: Array, plan: BodyLayout) -> list[Piece]:
    """Upper arm, forearm and a hand on the steering wheel."""
    start = shifted(shoulder, y=side * 0.21, z=-0.01)
    elbow = shifted(shoulder, x=0.16, y=side * 0.27, z=-0.25)
    hand = rim_point(plan, side * radians(110.0))
    return [
        ball(f"shoulder {name}", "overalls", 0.078, start),
        rod(f"upper arm {name}", "overalls", 0.055, start, elbow),
        ball(f"elbow {name}", "overalls", 0.053, elbow),
        rod(f"forearm {name}", "overalls", 0.045, elbow, hand),
        ball(f"hand {name}", "skin", 0.05, hand),
    ]
