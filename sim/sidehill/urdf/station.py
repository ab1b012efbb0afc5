"""Platform, fenders, seat and steering wheel: where the operator sits."""

from math import cos, pi, radians, sin, sqrt

import numpy as np

from sidehill.machine.fitted import Fitted
from sidehill.urdf.piece import SIDES, Array, Piece, box, rod, shifted, span
from sidehill.urdf.sizes import BodyLayout, WheelLayout, body_layout, wheel_layout

FENDER_GAP = 0.075  # [m] above the tyre
FENDER_FROM, FENDER_TO = radians(-68.0), radians(52.0)  # from straight up, forward positive
FENDER_STEPS = 8
WHEEL_RADIUS, WHEEL_TILT, WHEEL_STEPS = 0.17, radians(35.0), 12


def station(fitted: Fitted) -> list[Piece]:
    """All of it, on the chassis."""
    plan, rear = body_layout(fitted), wheel_layout(fitted, "rear")
    return [*platform(plan, rear), *fenders(plan, rear), *seat(plan), *steering_wheel(plan)]


def platform(plan: BodyLayout, rear: WheelLayout) -> list[Piece]:
    """Floor boards between and in front of the rear wheels."""
    low, high = plan.floor - 0.03, plan.floor
    step, inner = min(rear.radius + 0.05, plan.dash - 0.1), plan.fender_inner
    wide = plan.fender_outer - 0.06
    return [
        span("floor", "dark grey", (plan.seat_x + 0.1, -inner, low), (plan.dash, inner, high)),
        span("steps", "dark grey", (step, -wide, low), (plan.dash + 0.05, wide, high)),
    ]


def fenders(plan: BodyLayout, rear: WheelLayout) -> list[Piece]:
    """An arch over each rear tyre as delivered, and the panel inside it."""
    radius = rear.radius + FENDER_GAP
    step = (FENDER_TO - FENDER_FROM) / FENDER_STEPS
    width = plan.fender_outer - plan.fender_inner
    pieces = []
    for name, side in SIDES.items():
        y = side * (plan.fender_inner + width / 2)
        for k in range(FENDER_STEPS):
            angle = FENDER_FROM + (k + 0.5) * step
            place = (radius * sin(angle), y, rear.radius + radius * cos(angle))
            size = (2.02 * radius * sin(step / 2), width, 0.02)
            pieces.append(box(f"fender {name} {k + 1}", "plum", size, place, pitch=angle))
        for k, (back, front) in enumerate(((-0.85, -0.5), (-0.5, 0.5), (0.5, 0.75))):
            reach = max(abs(back), abs(front)) * rear.radius
            top = rear.radius + sqrt(radius**2 - reach**2)
            low = (back * rear.radius, side * (plan.fender_inner - 0.02), plan.floor)
            high = (front * rear.radius, side * plan.fender_inner, top)
            pieces.append(span(f"fender panel {name} {k + 1}", "dark plum", low, high))
    return pieces


def seat(plan: BodyLayout) -> list[Piece]:
    """Pedestal, cushion and backrest."""
    x, z, half = plan.seat_x, plan.seat, plan.seat_half
    return [
        span("seat base", "dark grey", (x - 0.22, -0.14, z - 0.25), (x + 0.15, 0.14, z - 0.09)),
        span("cushion", "black", (x - 0.27, -half, z - 0.09), (x + 0.22, half, z)),
        box("backrest", "black", (0.08, 2 * half, 0.44), (x - 0.29, 0.0, z + 0.17), pitch=-0.16),
    ]


def steering_wheel(plan: BodyLayout) -> list[Piece]:
    """Column and a ring of short rods."""
    centre = steering_centre(plan)
    foot = shifted(centre, x=0.28 * sin(WHEEL_TILT), z=-0.28 * cos(WHEEL_TILT))
    pieces = [
        rod("column", "dark grey", 0.025, foot, centre),
        rod("spoke 1", "black", 0.012, rim_point(plan, pi / 2), rim_point(plan, -pi / 2)),
        rod("spoke 2", "black", 0.012, centre, rim_point(plan, pi)),
    ]
    for k in range(WHEEL_STEPS):
        ends = (rim_point(plan, 2 * pi * (k + j) / WHEEL_STEPS) for j in (0, 1))
        pieces.append(rod(f"steering wheel {k + 1}", "black", 0.015, *ends))
    return pieces


def steering_centre(plan: BodyLayout) -> Array:
    """(3,) [m] centre of the steering wheel."""
    return np.array([plan.dash - 0.2, 0.0, plan.seat + 0.27])


def rim_point(plan: BodyLayout, angle: float) -> Array:
    """(3,) [m] a point of the steering wheel's rim; 0 is farthest forward, pi / 2 left."""
    along, across = WHEEL_RADIUS * cos(angle), WHEEL_RADIUS * sin(angle)
    return shifted(steering_centre(plan), along * cos(WHEEL_TILT), across, along * sin(WHEEL_TILT))
