"""Loader frame, arms and rams."""

import numpy as np

from sidehill.machine.fitted import Fitted
from sidehill.machine.linkage import Y, rotation
from sidehill.urdf.piece import SIDES, Array, Piece, bar, rod, span
from sidehill.urdf.sizes import body_layout

ARM, POST = 0.06, 0.05  # [m] thickness across


def frame(fitted: Fitted) -> list[Piece]:
    """Posts and braces, on the chassis."""
    loader = fitted.machine.loader
    if loader is None:
        return []
    plan, (x, z) = body_layout(fitted), loader.arm_pivot
    half, low = loader.frame_width / 2, plan.hood_low - 0.1
    near, far = (x - 0.08, -half, low - 0.05), (x + 0.08, half, low + 0.05)
    pieces = [span("loader cross member", "dark grey", near, far)]
    for name, side in SIDES.items():
        y = side * (half - (ARM + POST) / 2)
        foot, top, front = (x, y, low), (x, y, z + 0.06), (plan.nose - 0.1, y, low)
        pieces += [
            bar(f"loader post {name}", "dark grey", (0.12, POST), foot, top),
            bar(f"loader brace {name}", "dark grey", (0.06, POST), foot, front),
            rod(
                f"loader pivot {name}", "pale grey", 0.03, (x, y, z), (x, side * (half + 0.045), z)
            ),
        ]
    return pieces


def arms(fitted: Fitted, rams: bool) -> list[Piece]:
    """Two kneed arms and the beam between them; rams only where the loader keeps its pose."""
    loader = fitted.machine.loader
    if loader is None:
        return []
    half, length = loader.frame_width / 2, loader.arm_length
    knee, pin = knee_point(length), np.array([length, 0.0, 0.0])
    tie = knee + 0.5 * (pin - knee)
    pieces = [rod("arm tie", "grey", 0.045, tie - half * Y, tie + half * Y)]
    for name, side in SIDES.items():
        y = side * half * Y
        pieces += [
            bar(f"arm rear {name}", "grey", (0.11, ARM), y, knee + y),
            bar(f"arm front {name}", "grey", (0.10, ARM), knee + y, pin + y),
            rod(f"arm knee {name}", "grey", 0.06, knee + y - ARM / 2 * Y, knee + y + ARM / 2 * Y),
            rod(f"bucket pin {name}", "pale grey", 0.03, pin + y - 0.045 * Y, pin + y + 0.045 * Y),
        ]
        if rams:
            pieces += ram(fitted, name, y - side * 0.055 * Y)
    return pieces


def ram(fitted: Fitted, name: str, y: Array) -> list[Piece]:
    """Barrel and rod from the knee to the bucket's back."""
    loader = fitted.machine.loader
    assert loader is not None
    start = 0.8 * knee_point(loader.arm_length) + y
    hold = rotation(Y, fitted.arm_angle) @ np.array([0.06, 0.0, 0.2])
    end = np.array([loader.arm_length, 0.0, 0.0]) + hold + y
    middle = start + 0.55 * (end - start)
    return [
        rod(f"ram {name}", "dark grey", 0.03, start, middle),
        rod(f"ram rod {name}", "pale grey", 0.015, middle, end),
    ]


def knee_point(length: float) -> Array:
    """(3,) [m] where the arm bends, above its chord so that it clears the front tyres."""
    return np.array([0.58 * length, 0.0, 0.15 * length])
