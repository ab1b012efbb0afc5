"""Tyre, rim, spacer and wheel weight: what turns with a wheel link, and the fill it carries."""

from math import cos, pi, sin, sqrt

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.urdf.piece import LEFT, RIGHT, Box, Piece, box, disc, rod
from sidehill.urdf.sizes import WheelLayout

SEGMENTS = 24  # flat boxes that make a ring
SKEW = 0.7  # [rad] of a lug to the axle
BOLTS = 6
THINNEST = 1e-6  # [m] what is thinner is not drawn


def wheel(plan: WheelLayout, side: float) -> list[Piece]:
    """All that turns, about the wheel link's y axis; `side` is LEFT or RIGHT."""
    return [
        *tyre(plan),
        *rim(plan, side),
        *spacer(plan, side),
        *weight(plan, side),
    ]


def tyre(plan: WheelLayout) -> list[Piece]:
    """Sidewalls and lugs, exactly as wide and as high as the tyre is."""
    tread = plan.radius - plan.lug
    return [
        *ring(
            "sidewall", "tyre", (plan.rim, plan.shoulder), (-0.44 * plan.width, 0.44 * plan.width)
        ),
        *ring("carcass", "tyre", (plan.shoulder, tread), (-plan.width / 2, plan.width / 2)),
        *_lugs(plan, LEFT),
        *_lugs(plan, RIGHT),
    ]


def rim(plan: WheelLayout, side: float) -> list[Piece]:
    """Barrel, disc and bolts; the disc sits where the hub holds it."""
    face = -side * plan.disc
    barrel = (-0.43 * plan.width, 0.43 * plan.width)
    pieces = [
        *ring("barrel", "rim", (0.9 * plan.rim, plan.rim), barrel),
        disc("rim disc", "rim", 0.92 * plan.rim, face, face + side * 0.012),
        disc("hub cap", "dark grey", 0.22 * plan.rim, face, face + side * 0.035),
        disc(
            "hub flange",
            "dark grey",
            0.42 * plan.rim,
            plan.hub(side),
            plan.hub(side) - side * 0.025,
        ),
    ]
    if plan.disc > barrel[1]:  # a reset rim reaches inboard of its tyre
        pieces.append(disc("rim bell", "rim", 0.9 * plan.rim, face, -side * barrel[1]))
    for k in range(BOLTS):
        x, z = 0.34 * plan.rim * cos(2 * pi * k / BOLTS), 0.34 * plan.rim * sin(2 * pi * k / BOLTS)
        ends = ((x, face, z), (x, face + side * 0.028, z))
        pieces.append(rod(f"bolt {k + 1}", "pale grey", 0.05 * plan.rim, *ends))
    return pieces


def spacer(plan: WheelLayout, side: float) -> list[Piece]:
    """The ring between hub and rim, in its true thickness."""
    if plan.spacer < THINNEST:
        return []
    return [disc("spacer", "spacer", 0.5 * plan.rim, plan.hub(side), -side * plan.disc)]


def weight(plan: WheelLayout, side: float) -> list[Piece]:
    """Cast weight bolted to the outside of the disc."""
    if plan.weight_thickness < THINNEST:
        return []
    face = side * (0.012 - plan.disc)
    outer = face + side * plan.weight_thickness
    return [disc("wheel weight", "weight", 0.78 * plan.rim, face, outer)]


def liquid(plan: WheelLayout) -> list[Piece]:
    """Both sidewalls' arcs below the liquid's surface, about the wheel centre; they do not turn."""
    pieces = []
    for name, inner in (("left", 0.445), ("right", -0.485)):
        reach = (inner * plan.width, (inner + 0.04) * plan.width)
        arc = ring(
            f"liquid {name}", "liquid", (0.9 * plan.rim + 0.1 * plan.shoulder, plan.shoulder), reach
        )
        pieces += [piece for piece in arc if piece.place[2] < plan.liquid_level]
    return pieces


def ring(
    name: str, material: str, radii: tuple[float, float], reach: tuple[float, float]
) -> list[Piece]:
    """Boxes round the y axis between two radii and two stations [m], corners on the outer one."""
    inner, outer = radii
    flat = outer * cos(pi / SEGMENTS)
    size = (2 * outer * sin(pi / SEGMENTS), reach[1] - reach[0], flat - inner)
    middle = (inner + flat) / 2
    pieces = []
    for k in range(SEGMENTS):
        angle = 2 * pi * (k + 0.5) / SEGMENTS
        place = (middle * sin(angle), sum(reach) / 2, middle * cos(angle))
        pieces.append(box(f"{name} {k + 1}", material, size, place, pitch=angle))
    return pieces


def _lugs(plan: WheelLayout, side: float) -> list[Piece]:
    """One half of the chevron tread; the inner ends lead when the wheel rolls forward."""
    thick = plan.lug_thickness
    length = (0.48 * plan.width - thick * sin(SKEW)) / cos(SKEW)
    chord = (length * sin(SKEW) + thick * cos(SKEW)) / 2
    outer = sqrt(plan.radius**2 - chord**2)  # so that the corners reach the tyre's radius
    middle = outer - plan.lug / 2 - 0.01
    size = (thick, length, plan.lug + 0.02)
    label = "left" if side == LEFT else "right"
    pieces = []
    for k in range(plan.lugs):
        angle = 2 * pi * (k + 0.25 * (1.0 + side)) / plan.lugs + 0.01
        place = np.array([middle * sin(angle), side * 0.26 * plan.width, middle * cos(angle)])
        turn = Rotation.from_euler("YZ", (angle, side * SKEW))
        roll, pitch, yaw = turn.as_euler("xyz")
        pieces.append(Piece(f"lug {label} {k + 1}", "lug", Box(size), place, (roll, pitch, yaw)))
    return pieces
