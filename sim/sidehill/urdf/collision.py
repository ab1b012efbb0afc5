"""Plain shapes for the fall after the point of no return; the drive uses none of them."""

from sidehill.machine.fitted import Fitted
from sidehill.urdf.bucket import depth, heights
from sidehill.urdf.piece import SIDES, Piece, disc, span
from sidehill.urdf.rollbar import hinge_height
from sidehill.urdf.sizes import body_layout, wheel_layout


def collisions(fitted: Fitted) -> dict[str, list[Piece]]:
    """Pieces by link; those of a link that the machine lacks are empty."""
    shapes = {"chassis": [*chassis(fitted), *rollbar(fitted)], "bucket": bucket(fitted)}
    for axle in ("front", "rear"):
        plan = wheel_layout(fitted, axle)
        tyre = disc("tyre", "tyre", plan.radius, -plan.width / 2, plan.width / 2)
        shapes |= {f"wheel_{axle}_{side}": [tyre] for side in SIDES}
    return shapes


def chassis(fitted: Fitted) -> list[Piece]:
    """Hood, and the seat with the operator on it."""
    plan = body_layout(fitted)
    high = 0.9 if fitted.outfit.operator > 0.0 else 0.4
    x, z, half = plan.seat_x, plan.seat, plan.hood_half
    return [
        span("hood", "plum", (plan.dash, -half, plan.hood_low), (plan.nose, half, plan.hood_high)),
        span("seat", "black", (x - 0.3, -0.24, z - 0.2), (x + 0.25, 0.24, z + high)),
    ]


def rollbar(fitted: Fitted) -> list[Piece]:
    """Posts, as high as they stand, and the cross bar of a bar that is up."""
    rops = fitted.machine.rops
    if rops is None:
        return []
    up = fitted.outfit.rops == "up"
    top = rops.height if up else hinge_height(rops)
    half, low, x = rops.width / 2, wheel_layout(fitted, "rear").radius, rops.x
    thin = 0.035
    pieces = [
        span(
            f"post {name}", "dark grey",
            (x - thin, side * (half - 2 * thin), low), (x + thin, side * half, top),
        )
        for name, side in SIDES.items()
    ]  # fmt: skip
    if up:
        bar = span(
            "cross bar", "dark grey", (x - thin, -half, top - 2 * thin), (x + thin, half, top)
        )
        pieces.append(bar)
    return pieces


def bucket(fitted: Fitted) -> list[Piece]:
    """One box."""
    if fitted.machine.loader is None:
        return []
    (back, lip), (low, high) = depth(fitted), heights(fitted)
    half = fitted.machine.loader.bucket_width / 2
    return [span("bucket", "grey", (back, -half, low), (lip, half, high))]
