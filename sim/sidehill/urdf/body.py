"""Hood, frame, gearbox and rear axle of the chassis link."""

from sidehill.machine.fitted import Fitted
from sidehill.urdf.piece import LEFT, RIGHT, SIDES, Piece, bar, rod, span
from sidehill.urdf.sizes import BodyLayout, WheelLayout, body_layout, wheel_layout

EDGE = 0.06  # [m] radius of the hood's rounded edges


def body(fitted: Fitted) -> list[Piece]:
    """The bare tractor in front of and below the operator."""
    plan, rear = body_layout(fitted), wheel_layout(fitted, "rear")
    return [
        *hood(plan),
        *face(plan),
        *engine(plan, fitted),
        *drive_train(plan, rear),
        *hitch(plan, rear),
    ]


def hood(plan: BodyLayout) -> list[Piece]:
    """A box with rounded upper edges, and a vent on each side."""
    low, high, half = plan.hood_low, plan.hood_high, plan.hood_half
    back, front = plan.dash, plan.nose
    shoulder, rounded = high - EDGE, half - EDGE
    pieces = [
        span("hood sides", "plum", (back, -half, low), (front, half, shoulder)),
        span("hood top", "plum", (back, -rounded, shoulder), (front - EDGE, rounded, high)),
        rod(
            "hood brow", "plum", EDGE,
            (front - EDGE, -rounded, shoulder), (front - EDGE, rounded, shoulder),
        ),
        span(
            "dashboard", "dark grey",
            (back - 0.07, -0.85 * half, plan.floor), (back + 0.02, 0.85 * half, high + 0.05),
        ),
    ]  # fmt: skip
    for name, side in SIDES.items():
        y = side * rounded
        ends = ((back, y, shoulder), (front - EDGE, y, shoulder))
        vent = (front - 0.45 * (front - back), front - 0.18 * (front - back))
        depth = (side * half, side * (half + 0.006))
        heights = (low + 0.3 * (high - low), low + 0.62 * (high - low))
        pieces += [
            rod(f"hood edge {name}", "plum", EDGE, *ends),
            span(
                f"vent {name}", "dark grey",
                (vent[0], depth[0], heights[0]), (vent[1], depth[1], heights[1]),
            ),
        ]  # fmt: skip
    return pieces


def face(plan: BodyLayout) -> list[Piece]:
    """Grille and lamps."""
    low, high, half, x = plan.hood_low, plan.hood_high, plan.hood_half, plan.nose
    tall = high - EDGE - low
    pieces = [
        span(
            "grille", "black",
            (x, -0.72 * half, low + 0.08 * tall), (x + 0.012, 0.72 * half, low + 0.62 * tall),
        )
    ]  # fmt: skip
    for name, side in SIDES.items():
        at = (side * 0.55 * half, low + 0.82 * tall)
        pieces.append(rod(f"lamp {name}", "lamp", 0.05, (x - 0.01, *at), (x + 0.02, *at)))
    return pieces


def engine(plan: BodyLayout, fitted: Fitted) -> list[Piece]:
    """Engine block, frame rails, axle bracket with the pivot pin, exhaust."""
    axle, pivot = fitted.machine.body.wheelbase, fitted.machine.front_axle.pivot_height
    half, rail = 0.6 * plan.hood_half, plan.rail
    low, high = pivot + 0.075, plan.hood_low + 0.02
    front, back = plan.nose - 0.08, plan.dash - 0.15
    lug = min(0.16, max(0.5 * (front - axle), 0.04))
    ear, under = lug + 0.05, pivot - 0.05
    pipe = (plan.dash + 0.6 * (axle - plan.dash), -0.45 * plan.hood_half)
    mouth = (*pipe, plan.hood_high + 0.28)
    spine = (0.0, 0.0, rail), (back + 0.1, 0.0, rail)
    return [
        span("engine", "grey", (back, -half, low), (front, half, high)),
        span("frame front", "dark grey", (front, -half, low), (plan.nose, half, low + 0.12)),
        span("bracket rear", "grey", (axle - ear, -0.07, under), (axle - lug, 0.07, low)),
        span("bracket front", "grey", (axle + lug, -0.07, under), (axle + ear, 0.07, low)),
        rod("pin", "pale grey", 0.03, (axle - ear - 0.01, 0, pivot), (axle + ear + 0.01, 0, pivot)),
        rod("exhaust", "black", 0.03, (*pipe, plan.hood_high - 0.02), mouth),
        bar("frame spine", "dark grey", (0.14, 1.4 * half), *spine),
    ]


def drive_train(plan: BodyLayout, rear: WheelLayout) -> list[Piece]:
    """Gearbox and rear axle housing, up to the hub flanges."""
    z, case = rear.radius, 0.42 * rear.radius
    pieces = [
        span(
            "gearbox",
            "grey",
            (-0.24, -0.15, z - case),
            (0.55, 0.15, min(z + case, plan.seat - 0.12)),
        ),
    ]
    for name, side in SIDES.items():
        flange = side * rear.centre + rear.hub(side)
        end = flange - side * 0.025
        drop = side * max(abs(end) - 0.12, 0.16)
        pieces += [
            rod(f"axle housing {name}", "grey", 0.10, (0.0, side * 0.1, z), (0.0, drop, z)),
            rod(f"axle tube {name}", "grey", 0.07, (0.0, drop, z), (0.0, end, z)),
        ]
    return pieces


def hitch(plan: BodyLayout, rear: WheelLayout) -> list[Piece]:
    """Drawbar and lower links behind the axle."""
    z = 0.75 * rear.radius
    pieces = [
        bar("drawbar", "dark grey", (0.03, 0.08), (-0.1, 0.0, 0.8 * z), (plan.tail, 0.0, 0.7 * z))
    ]
    for name, side in (("left", LEFT), ("right", RIGHT)):
        y = side * 0.15
        pieces.append(
            bar(f"lower link {name}", "grey", (0.06, 0.03), (-0.15, y, z), (plan.tail, y, 0.9 * z))
        )
    return pieces
