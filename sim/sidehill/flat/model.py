"""The moving bodies of a machine as flat arrays."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sidehill.kernels.layout import MODEL, Records, blank
from sidehill.machine.fitted import Array
from sidehill.machine.inertia import about
from sidehill.machine.linkage import ORIGIN, UNTURNED, Link, rotation

POSES = 13  # of the loader, at which its inertia is asked for


def flat_model(links: tuple[Link, ...]) -> tuple[Records, tuple[str, ...]]:
    """(1,) MODEL of the moving bodies, fixed links merged into their carriers; their names."""
    merged = _merge_fixed(links)
    names = tuple(link.name for link in merged)
    record = blank(MODEL)
    model = record[0]
    bodies = model["bodies"] = len(merged)
    model["parent"][:bodies] = [names.index(link.parent) if link.parent else 0 for link in merged]
    model["mass"][:bodies] = [link.mass for link in merged]
    for field in ("origin", "axis", "com", "inertia"):
        model[field][:bodies] = [getattr(link, field) for link in merged]
    model["angle"][: bodies - 1] = [link.angle for link in merged[1:]]
    return record, names


@dataclass(frozen=True)
class Home:
    """Where a link sits on the moving body that carries it."""

    carrier: str  # name of that body
    turn: Array  # (3, 3) link axes in the body's
    place: Array  # (3,) [m] link origin in the body's frame


def homes(links: tuple[Link, ...]) -> dict[str, Home]:
    """The home of every link; a moving link is its own."""
    home_of: dict[str, Home] = {}
    for link in links:
        if link.joint != "fixed" or link.parent is None:
            home_of[link.name] = Home(link.name, UNTURNED, ORIGIN)
            continue
        on = home_of[link.parent]
        home_of[link.name] = Home(
            on.carrier,
            on.turn @ rotation(link.axis, link.angle),
            on.place + on.turn @ link.origin,
        )
    return home_of


def _merge_fixed(links: tuple[Link, ...]) -> list[Link]:
    moving: dict[str, Link] = {}
    home_of = homes(links)
    for link in links:
        home = home_of[link.name]
        if home.carrier == link.name:
            moving[link.name] = link
        else:
            moving[home.carrier] = _joined(moving[home.carrier], link, home.turn, home.place)
    return list(moving.values())


def _joined(carrier: Link, link: Link, turn: Array, at: Array) -> Link:
    com = at + turn @ link.com
    mass = carrier.mass + link.mass
    centre = (carrier.mass * carrier.com + link.mass * com) / mass
    inertia = about(carrier.inertia, carrier.mass, carrier.com - centre) + about(
        turn @ link.inertia @ turn.T, link.mass, com - centre
    )
    return replace(carrier, mass=mass, com=centre, inertia=inertia)


def about_joint(links: tuple[Link, ...], name: str) -> float:
    """[kg m^2] of a link and all it carries about its joint's axis, as built."""
    at: dict[str, tuple[Array, Array]] = {}
    carried: list[Link] = []
    for link in links:
        if link.name == name:
            at[name] = (UNTURNED, ORIGIN)
        elif link.parent in at:
            turn, place = at[link.parent]
            bend = rotation(link.axis, link.angle) if link.name == "bucket" else UNTURNED
            at[link.name] = (turn @ bend, place + turn @ link.origin)
        else:
            continue
        carried.append(link)
    turns = np.array([at[link.name][0] for link in carried])
    masses = np.array([link.mass for link in carried])
    own = turns @ [link.inertia for link in carried] @ turns.transpose(0, 2, 1)
    arms = [at[link.name][1] + at[link.name][0] @ link.com for link in carried]
    axis = carried[0].axis
    return float(sum((about(own, masses, np.array(arms)) @ axis @ axis).tolist()))


def loader_inertias(links: tuple[Link, ...], angles: Sequence[float]) -> tuple[float, float]:
    """[kg m^2] that the arm's and the bucket's joint feel while the other one is free.

    The two are coupled: with the load far out the bucket's joint feels little of it. Each is the
    least over the arm angles [rad] that it passes through; the bucket stays level.
    """
    by_name = {link.name: link for link in links}
    arm, bucket = by_name["loader_arm"], by_name["bucket"]
    from_pin, turned = bucket.com, float(bucket.inertia[1, 1])
    own = turned + bucket.mass * float(from_pin[::2] @ from_pin[::2])
    alone = float(about(arm.inertia, arm.mass, arm.com)[1, 1])
    felt = []
    for angle in np.linspace(min(angles), max(angles), POSES):
        from_arm = rotation(arm.axis, float(angle)) @ bucket.origin + from_pin
        whole = alone + turned + bucket.mass * float(from_arm[::2] @ from_arm[::2])
        both = turned + bucket.mass * float(from_arm[::2] @ from_pin[::2])
        felt.append((whole - both**2 / own, own - both**2 / whole))
    return min(one for one, _ in felt), min(other for _, other in felt)
