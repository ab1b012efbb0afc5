"""The tree of links that both the URDF text and the flat model are made from."""

from dataclasses import dataclass, replace
from math import cos, pi, sin

import numpy as np

from sidehill.machine.fitted import Array, Fitted
from sidehill.machine.inertia import NOTHING, compose_groups
from sidehill.machine.loader import HUNG
from sidehill.machine.tractor import kingpin

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
PIN_MARGIN = 0.09  # [rad] the joint's own limit lies this far behind the axle stop

X = np.array([1.0, 0.0, 0.0])
Y = np.array([0.0, 1.0, 0.0])
Z = np.array([0.0, 0.0, 1.0])
ORIGIN = np.zeros(3)
UNTURNED = np.eye(3)


@dataclass(frozen=True)
class Link:
    """One link and the joint that carries it. At joint angle zero every link frame is
    parallel to the machine frame; the chassis frame is the machine frame."""

    name: str
    parent: str | None
    joint: str  # "free", "revolute", "continuous" or "fixed"
    origin: Array  # (3,) [m] place of the joint, parent link frame
    axis: Array  # (3,) unit vector, link frame
    angle: float  # [rad] joint angle as built; a fixed joint keeps it
    lower: float  # [rad] limit of a revolute joint
    upper: float  # [rad]
    mass: float  # [kg]
    com: Array  # (3,) [m] link frame
    inertia: Array  # (3, 3) [kg m^2] about the com, link axes


def rotation(axis: Array, angle: float) -> Array:
    """(3, 3) rotation by `angle` [rad] about the unit vector `axis` (Rodrigues)."""
    x, y, z = axis.tolist()
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.asarray(UNTURNED + sin(angle) * cross + (1.0 - cos(angle)) * (cross @ cross))


def build_linkage(
    fitted: Fitted, moving_loader: bool = False, hung: bool = True
) -> tuple[Link, ...]:
    """The links of a fitted machine, parents before children.

    The loader's two joints are fixed unless it moves during the run.

    Args:
        hung: a hung load sits at its hook, where its weight acts; not in a run, which moves it.
    """
    machine = fitted.machine
    pin = np.array([machine.body.wheelbase, 0.0, machine.front_axle.pivot_height])
    front_hub = np.array([machine.body.wheelbase, 0.0, machine.front_tyre.diameter / 2])
    rear_hub = np.array([0.0, 0.0, machine.rear_tyre.diameter / 2])
    to_kingpin = kingpin(machine) * Y
    stop = fitted.swing + PIN_MARGIN
    lock = machine.steering.max_angle + 0.2
    parts = [part for part in fitted.parts if hung or part.name != HUNG]
    lumps = compose_groups(parts, [part.link for part in parts])

    def place(name: str, joint: str, at: Array, axis: Array, angle: float = 0.0) -> Link:
        """A link whose joint is at `at` in the machine frame."""
        parent = _PARENTS[name]
        mass, cg, inertia = lumps.get(name, NOTHING)
        com = cg - at
        if name == "loader_arm":  # the one link that is built turned
            frame = rotation(axis, angle)
            com, inertia = frame.T @ com, frame.T @ inertia @ frame
        limit = {"front_axle": stop, "loader_arm": pi, "bucket": pi}.get(name, lock)
        return Link(
            name, parent, joint, at - places.get(parent, ORIGIN), axis, angle, -limit, limit,
            mass, com, inertia,
        )  # fmt: skip

    places: dict[str | None, Array] = {"front_axle": pin}
    links = [
        place("chassis", "free", ORIGIN, X),
        place("front_axle", "revolute", pin, X),
    ]
    for side, sign in (("left", 1.0), ("right", -1.0)):
        places[f"knuckle_{side}"] = front_hub + sign * to_kingpin
        links.append(place(f"knuckle_{side}", "revolute", places[f"knuckle_{side}"], Z))
    for wheel in WHEELS:
        hub, track = (
            (front_hub, fitted.front_track)
            if wheel.startswith("front")
            else (rear_hub, fitted.rear_track)
        )
        sign = 1.0 if wheel.endswith("left") else -1.0
        links.append(place(f"wheel_{wheel}", "continuous", hub + sign * track / 2 * Y, Y))
    if machine.loader is not None:
        joint = "revolute" if moving_loader else "fixed"
        x, z = machine.loader.arm_pivot
        pivot = np.array([x, 0.0, z])
        along_arm = rotation(-Y, fitted.arm_angle) @ (machine.loader.arm_length * X)
        links.append(place("loader_arm", joint, pivot, -Y, fitted.arm_angle))
        bucket = place("bucket", joint, pivot + along_arm, Y, fitted.arm_angle)
        # the bucket's joint is given in the arm's own frame, where the arm lies along x
        links.append(replace(bucket, origin=machine.loader.arm_length * X))
    return tuple(links)


_PARENTS: dict[str, str | None] = {
    "chassis": None,
    "front_axle": "chassis",
    "knuckle_left": "front_axle",
    "knuckle_right": "front_axle",
    "wheel_front_left": "knuckle_left",
    "wheel_front_right": "knuckle_right",
    "wheel_rear_left": "chassis",
    "wheel_rear_right": "chassis",
    "loader_arm": "chassis",
    "bucket": "loader_arm",
}
