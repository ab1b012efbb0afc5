"""Moments of inertia of plain solids, and moving them about. Textbook formulas."""

from collections.abc import Sequence

import numpy as np

from sidehill.files.errors import InputError
from sidehill.machine.fitted import Array, Part


def box(mass: float, length: float, width: float, height: float) -> Array:
    """(3, 3) [kg m^2] of a box [m] along x, y, z about its centre."""
    x2, y2, z2 = length**2, width**2, height**2
    return np.diag([y2 + z2, x2 + z2, x2 + y2]) * mass / 12.0


def cube(mass: float, density: float) -> Array:
    """(3, 3) [kg m^2] of a cube of that density [kg/m^3]."""
    side = (mass / density) ** (1.0 / 3.0)
    return box(mass, side, side, side)


def ring(mass: float, outer: float, inner: float, width: float) -> Array:
    """(3, 3) [kg m^2] of a ring with radii [m] and its axle along y."""
    radii2 = outer**2 + inner**2
    across = (3.0 * radii2 + width**2) / 12.0
    return np.diag([across, radii2 / 2.0, across]) * mass


def about(inertia: Array, mass: float, arm: Array) -> Array:
    """(3, 3) [kg m^2] the inertia about a point `arm` (3,) [m] from the CG: parallel axes."""
    return np.asarray(inertia + mass * (np.dot(arm, arm) * np.eye(3) - np.outer(arm, arm)))


def remainder(name: str, link: str, whole: Part, parts: Sequence[Part]) -> Part:
    """What is left of `whole` when `parts` are taken out of it."""
    mass = whole.mass - sum(part.mass for part in parts)
    moment = whole.mass * whole.cg - sum((p.mass * p.cg for p in parts), np.zeros(3))
    cg = moment / mass
    left = whole.inertia - sum(
        (about(p.inertia, p.mass, p.cg - whole.cg) for p in parts), np.zeros((3, 3))
    )
    return Part(name, link, mass, cg, left - about(np.zeros((3, 3)), mass, cg - whole.cg))


def check(parts: Sequence[Part], owner: str) -> None:
    """Whether bodies of those masses and inertias can exist.

    Args:
        owner: the machine file, for the message.

    Raises:
        InputError: no mass, or principal moments that are not positive or break
            the triangle inequality.
    """
    found = np.linalg.eigvalsh(np.stack([part.inertia for part in parts]))
    for part, moments in zip(parts, found, strict=True):
        if part.mass > 0.0 and moments[0] > 0.0 and moments[2] <= moments[0] + moments[1]:
            continue
        shown = ", ".join(f"{moment:.3g}" for moment in moments)
        raise InputError(
            f"{owner}: {part.name}: no body of {part.mass:.4g} kg can have the principal moments "
            f"of inertia {shown} kg m^2 (allowed: all positive, the largest at most the sum of the "
            "others); check [weighed] roll_inertia, [body], and the masses of axle and tyres"
        )
