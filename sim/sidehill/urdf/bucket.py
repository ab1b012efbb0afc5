"""The bucket and what lies in it, in the frame of the bucket pin."""

from sidehill.machine.fitted import Fitted
from sidehill.urdf.piece import SIDES, Piece, bar, box, rod, span

SHEET = 0.02  # [m] thickness
BACK, SHALLOWEST, HEIGHT = 0.05, 0.25, 0.45  # [m] back plate ahead of the pin, depth, height
STEPS = 6  # boxes that make one side
SLOPE = 0.55  # of the depth, by which the sides are shorter at the top
LOAD_DENSITY = 1600.0  # [kg/m^3] loose earth, common practice, no source
HEAP = (1.0, 0.92, 0.8, 0.62, 0.36)  # edge of each layer over that of the bucket


def bucket(fitted: Fitted) -> list[Piece]:
    """Floor, back, sides and cutting edge, mouth forward; in the frame of the bucket pin."""
    loader = fitted.machine.loader
    if loader is None:
        return []
    half, (back, lip), (low, high) = loader.bucket_width / 2, depth(fitted), heights(fitted)
    pieces = [
        span("bucket floor", "grey", (back, -half, low), (lip, half, low + SHEET)),
        span("bucket back", "grey", (back, -half, low), (back + SHEET, half, high)),
        span(
            "bucket edge",
            "pale grey",
            (lip - 0.02, -half, low - 0.01),
            (lip + 0.07, half, low + 0.01),
        ),
        rod("bucket rim", "grey", 0.02, (back + 0.01, -half, high), (back + 0.01, half, high)),
    ]
    for name, side in SIDES.items():
        inner, outer = side * (half - SHEET), side * half
        y, top = side * (half - SHEET / 2), lip - SLOPE * (lip - back)
        edge = (lip, y, low + SHEET), (top, y, high)
        pieces.append(bar(f"bucket side edge {name}", "grey", (0.06, 1.2 * SHEET), *edge))
        for k in range(STEPS):  # to the middle of the edge, which slopes back from the lip
            z = (low + k / STEPS * (high - low), low + (k + 1) / STEPS * (high - low))
            reach = lip - (k + 0.5) / STEPS * (lip - top)
            ends = (back, inner, z[0]), (reach, outer, z[1])
            pieces.append(span(f"bucket side {name} {k + 1}", "grey", *ends))
        y = side * loader.frame_width / 2
        ends = (-0.05, y - 0.05, -0.06), (back, y + 0.05, 0.22)
        pieces.append(span(f"bucket ear {name}", "dark grey", *ends))
    return pieces


def load(fitted: Fitted) -> list[Piece]:
    """A heap of layers that holds the load's volume."""
    loader, mass = fitted.machine.loader, fitted.outfit.bucket_load
    if loader is None or mass <= 0.0:
        return []
    (back, lip), (low, _) = depth(fitted), heights(fitted)
    wide, deep = loader.bucket_width - 2 * SHEET, lip - back - SHEET - 0.04
    layer = mass / LOAD_DENSITY / (wide * deep * sum(edge**2 for edge in HEAP))
    middle = back + SHEET + deep / 2
    return [
        box(
            f"bucket load {k + 1}", "load", (edge * deep, edge * wide, layer),
            (middle, 0.0, low + SHEET + (k + 0.5) * layer),
        )
        for k, edge in enumerate(HEAP)
    ]  # fmt: skip


def depth(fitted: Fitted) -> tuple[float, float]:
    """x [m] of the bucket's back and of its lip; the load's CG lies halfway."""
    loader = fitted.machine.loader
    assert loader is not None
    return BACK, max(2 * loader.load_reach - BACK, BACK + SHALLOWEST)


def heights(fitted: Fitted) -> tuple[float, float]:
    """z [m] of the bucket's floor and of its back's top; the floor is off the ground."""
    loader = fitted.machine.loader
    assert loader is not None
    low = -min(0.2, loader.carry_height - 0.08)
    return low, low + HEIGHT
