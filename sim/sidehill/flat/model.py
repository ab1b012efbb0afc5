"""The moving bodies of a machine as flat arrays."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sidehill.kernels.layout import MODEL, Records, blank
from sidehill.machine.fitted import Array
from sidehill.machine.linkage import Link, rotation

POSES = 13  # of the loader, at which its inertia is asked for


def flat_model(links: tuple[Link, ...]) -> tuple[Records, tuple[str, ...]]:
    """(1,) MODEL of the moving bodies, fixed links merged into their carriers; their names."""
    merged = _merge_fixed(links)
    names = tuple(link.name for link in merged)
    record = blank(MODEL)
    model = record[0]
    model["bodies"] = len(merged)
    for b, link in enumerate(merged):
        model["parent"][b] = names.index(link.parent) if link.parent else 0
        model["origin"][b], model["axis"][b] = link.origin, link.axis
        model["mass"][b], model["com"][b] = link.mass, link.com
        model["inertia"][b] = link.inertia
        if b > 0:
            model["angle"][b - 1] = link.angle
    return record, names


@dataclass(frozen=True)
class Home:
    """Where a link sits on the moving body that carries it."""

    carrier: str  # name of that body
    turn: Array  # (3, 3) link axes in the body's
    place: Array  # (3,) [m] link origin in the body's frame


def homes(links: tuple[Link, ...]) -> dict[str, Home]:
    """The home of every link; a moving link is its own."""
    found: dict[str, Home] = {}
    for link in links:
        if link.joint != "fixed" or link.parent is None:
            found[link.name] = Home(link.name, np.eye(3), np.zeros(3))
            continue
        on = found[link.parent]
        found[link.name] = Home(
            on.carrier,
            on.turn @ rotation(link.axis, link.angle),
            on.place + on.turn @ link.origin,
        )
    return found


def _merge_fixed(links: tuple[Link, ...]) -> list[Link]:
    moving: dict[str, Link] = {}
    found = homes(links)
    for link in links:
        home = found[link.name]
        if home.carrier == link.name:
            moving[link.name] = link
        else:
            moving[home.carrier] = _joined(moving[home.carrier], link, home.turn, home.place)
    return list(moving.values())


def _joined(carrier: Link, link: Link, turn: Array, at: Array) -> Link:
    com = at + turn @ link.com
    mass = carrier.mass + link.mass
    centre = (carrier.mass * carrier.com + link.mass * com) / mass
    inertia = _moved(carrier.inertia, carrier.mass, carrier.com - centre) + _moved(
        turn @ link.inertia @ turn.T, link.mass, com - centre
    )
    return replace(carrier, mass=mass, com=centre, inertia=inertia)


def _moved(inertia: Array, mass: float, arm: Array) -> Array:
    return np.asarray(inertia + mass * (arm @ arm * np.eye(3) - np.outer(arm, arm)))


def about_joint(links: tuple[Link, ...], name: str) -> float:
    """[kg m^2] of a link and all it carries about its joint's axis, as built."""
    at: dict[str, tuple[Array, Array]] = {}
    total = 0.0
    axis = next(link.axis for link in links if link.name == name)
    for link in links:
        if link.name == name:
            at[name] = (np.eye(3), np.zeros(3))
        elif link.parent in at:
            turn, place = at[link.parent]
            angle = link.angle if link.name == "bucket" else 0.0
            at[link.name] = (turn @ rotation(link.axis, angle), place + turn @ link.origin)
        else:
            continue
        turn, place = at[link.name]
        whole = _moved(turn @ link.inertia @ turn.T, link.mass, place + turn @ link.com)
        total += float(axis @ whole @ axis)
    return total


def loader_inertias(links: tuple[Link, ...], angles: Sequence[float]) -> tuple[float, float]:
    """[kg m^2] that the arm's and the bucket's joint feel while the other one is free.

    The two are coupled: with the load far out the bucket's joint feels little of it. Each is the
    least over the arm angles [rad] that it passes through; the bucket stays level.
    """
    by_name = {link.name: link for link in links}
    arm, bucket = by_name["loader_arm"], by_name["bucket"]
    from_pin, turned = bucket.com, float(bucket.inertia[1, 1])
    own = turned + bucket.mass * float(from_pin[::2] @ from_pin[::2])
    alone = float(_moved(arm.inertia, arm.mass, arm.com)[1, 1])
    felt = []
    for angle in np.linspace(min(angles), max(angles), POSES):
        from_arm = rotation(arm.axis, float(angle)) @ bucket.origin + from_pin
        whole = alone + turned + bucket.mass * float(from_arm[::2] @ from_arm[::2])
        both = turned + bucket.mass * float(from_arm[::2] @ from_pin[::2])
        felt.append((whole - both**2 / own, own - both**2 / whole))
    return min(one for one, _ in felt), min(other for _, other in felt)
