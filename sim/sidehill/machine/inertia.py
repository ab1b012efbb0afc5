"""Moments of inertia of plain solids, moved about and put together. Textbook formulas."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np

from sidehill.files.errors import InputError
from sidehill.machine.fitted import Array, Part

_UNIT = np.eye(3)


class Lump(NamedTuple):
    """Several parts as one rigid body."""

    mass: float  # [kg]
    cg: Array  # (3,) [m] machine frame
    inertia: Array  # (3, 3) [kg m^2] about its own CG, machine axes


NOTHING = Lump(0.0, np.zeros(3), np.zeros((3, 3)))


def box(mass: float, length: float, width: float, height: float) -> Array:
    """(3, 3) [kg m^2] of a box [m] along x, y, z about its centre."""
    x2, y2, z2 = length**2, width**2, height**2
    return _diagonal((y2 + z2) * mass / 12.0, (x2 + z2) * mass / 12.0, (x2 + y2) * mass / 12.0)


def cube(mass: float, density: float) -> Array:
    """(3, 3) [kg m^2] of a cube of that density [kg/m^3]."""
    side = (mass / density) ** (1.0 / 3.0)
    return box(mass, side, side, side)


def ring(mass: float, outer: float, inner: float, width: float) -> Array:
    """(3, 3) [kg m^2] of a ring with radii [m] and its axle along y."""
    radii2 = outer**2 + inner**2
    across = (3.0 * radii2 + width**2) / 12.0
    return _diagonal(across * mass, radii2 / 2.0 * mass, across * mass)


def _diagonal(x: float, y: float, z: float) -> Array:
    return np.array([[x, 0.0, 0.0], [0.0, y, 0.0], [0.0, 0.0, z]])


def about(inertia: Array, mass: float | Array, arm: Array) -> Array:
    """(..., 3, 3) [kg m^2] inertias about points `arm` (..., 3) [m] from the CGs: parallel axes."""
    square = np.vecdot(arm, arm)[..., None, None] * _UNIT
    moved = square - arm[..., :, None] * arm[..., None, :]
    return np.asarray(inertia + np.asarray(mass)[..., None, None] * moved)


def compose(parts: Iterable[Part]) -> Lump:
    """Several parts as one."""
    parts = tuple(parts)
    return compose_groups(parts, ("",) * len(parts)).get("", NOTHING)


def compose_groups(parts: Sequence[Part], names: Sequence[str]) -> dict[str, Lump]:
    """The parts of each name as one lump.

    Args:
        names: (n,) of each part's group.
    """
    if not parts:
        return {}
    groups = list(dict.fromkeys(names))
    place = [groups.index(name) for name in names]
    mass = [0.0] * len(groups)
    for group, part in zip(place, parts, strict=True):
        mass[group] += part.mass
    whole = np.maximum(mass, np.finfo(float).tiny)  # parts without mass lie at the origin
    weight = np.array([part.mass for part in parts])
    cg = np.array([part.cg for part in parts])
    centre, inertia = np.zeros((len(groups), 3)), np.zeros((len(groups), 3, 3))
    np.add.at(centre, place, weight[:, None] * cg)
    centre /= whole[:, None]
    own = np.array([part.inertia for part in parts])
    np.add.at(inertia, place, about(own, weight, cg - centre[place]))
    return {name: Lump(mass[i], centre[i], inertia[i]) for i, name in enumerate(groups)}


def remainder(name: str, link: str, whole: Part, parts: Sequence[Part]) -> Part:
    """What is left of `whole` when `parts` are taken out of it."""
    mass = whole.mass - sum(part.mass for part in parts)
    masses = np.array([part.mass for part in parts])
    places = np.array([part.cg for part in parts])
    moment = whole.mass * whole.cg - (masses[:, None] * places).sum(axis=0)
    cg = moment / mass
    own = np.array([part.inertia for part in parts])
    left = whole.inertia - about(own, masses, places - whole.cg).sum(axis=0)
    return Part(name, link, mass, cg, left - about(np.zeros((3, 3)), mass, cg - whole.cg))


def check(parts: Sequence[Part], owner: str) -> None:
    """Whether bodies of those masses and inertias can exist.

    Args:
        owner: the machine file, for the message.

    Raises:
        InputError: no mass, or principal moments that are not positive or break
            the triangle inequality.
    """
    moments_of = np.linalg.eigvalsh(np.array([part.inertia for part in parts])).tolist()
    for part, moments in zip(parts, moments_of, strict=True):
        low, middle, high = moments
        if part.mass > 0.0 and low > 0.0 and high <= low + middle:
            continue
        shown = ", ".join(f"{moment:.3g}" for moment in moments)
        raise InputError(
            f"{owner}: {part.name}: no body of {part.mass:.4g} kg can have the principal moments "
            f"of inertia {shown} kg m^2 (allowed: all positive, the largest at most the sum of the "
            "others); check [weighed] roll_inertia, [body], and the masses of axle and tyres"
        )
