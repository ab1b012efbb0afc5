"""What hangs on either end: rear box, front plates, attachment."""

from math import ceil

import numpy as np

from sidehill.machine.file import Attachment
from sidehill.machine.fitted import Array, Fitted
from sidehill.urdf.piece import SIDES, Piece, bar, box, shifted
from sidehill.urdf.sizes import body_layout, wheel_layout

BOX_DENSITY = 2300.0  # [kg/m^3] a box of concrete (textbook value)
PLATE = 20.0  # [kg] one front weight, common practice, no source
HANGER = 0.13  # [m] |y| of the bars that carry it
CLEARANCE = 0.05  # [m] kept from the tyres and the ground


def rear_box(fitted: Fitted) -> list[Piece]:
    """A box of the ballast's volume about its CG."""
    mass = fitted.outfit.rear_ballast
    if mass <= 0.0:
        return []
    cg, rear = fitted.part("rear_ballast").cg, wheel_layout(fitted, "rear")
    deep = 2 * max(min(-float(cg[0]) - rear.radius - CLEARANCE, 0.35), 0.1)
    high = min(0.55, 2 * (float(cg[2]) - CLEARANCE))
    wide = min(mass / BOX_DENSITY / (deep * high), 2 * rear.centre)
    top = shifted(cg, z=high / 2)
    return [
        box("rear ballast", "dark plum", (deep, wide, high), cg),
        box("rear ballast lid", "dark grey", (1.04 * deep, 1.02 * wide, 0.04), top),
        *links(np.array([-0.2, 0.0, rear.radius]), shifted(cg, x=deep / 2)),
    ]


def front_weights(fitted: Fitted) -> list[Piece]:
    """A row of plates on a carrier."""
    mass = fitted.outfit.front_weight
    if mass <= 0.0:
        return []
    cg, plan = fitted.part("front_weight").cg, body_layout(fitted)
    count = ceil(mass / PLATE)
    pitch = min(0.06, 0.9 * fitted.front_track / count)
    row = [
        box(
            f"front weight {k + 1}", "weight", (0.18, 0.8 * pitch, 0.28),
            shifted(cg, y=(k - (count - 1) / 2) * pitch),
        )
        for k in range(count)
    ]  # fmt: skip
    carrier = box(
        "weight carrier", "dark grey", (0.05, count * pitch, 0.05), shifted(cg, x=-0.09, z=0.06)
    )
    return [
        *row,
        carrier,
        *links(np.array([plan.nose - 0.1, 0.0, plan.rail]), shifted(cg, x=-0.1, z=0.06)),
    ]


def attachment(fitted: Fitted) -> list[Piece]:
    """A plain box of the attachment's width about its CG, its name on the visual."""
    if fitted.outfit.attachment is None:
        return []
    (item,) = (a for a in fitted.machine.attachment if a.name == fitted.outfit.attachment)
    cg = fitted.part("attachment").cg
    size = attachment_size(fitted, item)
    cover = (0.8 * size[0], 0.9 * size[1], 0.02)
    pieces = [
        box(f"attachment {item.name}", "grey", size, cg),
        box("attachment cover", "dark plum", cover, shifted(cg, z=size[2] / 2)),
    ]
    if item.position == "mid":
        return pieces
    if item.position == "rear":
        frame = np.array([-0.2, 0.0, wheel_layout(fitted, "rear").radius])
        return pieces + links(frame, shifted(cg, x=size[0] / 2))
    plan = body_layout(fitted)
    frame = np.array([plan.nose - 0.1, 0.0, plan.rail])
    return pieces + links(frame, shifted(cg, x=-size[0] / 2))


def attachment_size(fitted: Fitted, item: Attachment) -> tuple[float, float, float]:
    """Edges [m]: as deep as the wheels leave room for, and off the ground when lowered."""
    x, z = item.cg
    rear, front = wheel_layout(fitted, "rear"), wheel_layout(fitted, "front")
    ahead = fitted.machine.body.wheelbase - front.radius
    room = {
        "rear": -x - rear.radius,
        "mid": min(x - rear.radius, ahead - x),
        "front": x - fitted.machine.body.wheelbase - front.radius,
    }[item.position]
    deep = 2 * max(min(room - CLEARANCE, 0.35), 0.08)
    high = 2 * max(min(z - 0.03, 0.08 if item.position == "mid" else 0.25), 0.02)
    return deep, item.width, high


def links(inner: Array, outer: Array) -> list[Piece]:
    """Two bars from the frame to what hangs on it."""
    return [
        bar(
            f"{'front' if outer[0] > 0 else 'rear'} hanger {name}", "dark grey", (0.06, 0.03),
            shifted(inner, y=side * HANGER), shifted(outer, y=side * HANGER),
        )
        for name, side in SIDES.items()
    ]  # fmt: skip
