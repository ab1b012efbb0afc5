"""Where a picture is taken from: named views that follow the machine."""

from dataclasses import dataclass
from math import pi, radians, sin, tan

import numpy as np

from sidehill.film.light import facing, towards
from sidehill.film.shapes import Array

FIELD = radians(32.0)  # angle of view, across the narrower side of a pane


@dataclass(frozen=True)
class View:
    """A way of following; angles as seen from the machine, level horizon."""

    bearing: float  # [rad] of the eye from dead astern, downhill positive
    elevation: float  # [rad] of the eye above level
    closeness: float  # share of the distance at which the whole machine is in the picture
    aim: float  # [m] height above the ground of what is looked at
    sun: float  # [rad] bearing of the sun from dead astern, downhill positive


VIEWS = {
    "downhill": View(radians(34.0), radians(13.0), 0.90, 1.05, radians(-28.0)),
    "uphill": View(radians(-38.0), radians(11.0), 0.90, 1.05, radians(25.0)),
    "low": View(radians(12.0), radians(-0.5), 0.84, 1.05, radians(-40.0)),
    "above": View(radians(18.0), radians(58.0), 0.95, 0.60, radians(-40.0)),
}
SUN_HEIGHT = radians(46.0)


@dataclass(frozen=True)
class Camera:
    """A pinhole camera, horizon level."""

    eye: Array  # (3,) [m] level frame
    target: Array  # (3,) [m] seen in the middle
    sun: Array  # (3,) unit vector towards the sun

    @property
    def look(self) -> Array:
        """(4, 3) right, down, forward, eye."""
        forward = self.target - self.eye
        return np.vstack([facing(forward / np.linalg.norm(forward)), self.eye])


def focal_length(width: int, height: int) -> float:
    """[pixels] distance of a picture at which its narrower side fills `FIELD`."""
    return min(width, height) / (2.0 * tan(FIELD / 2.0))


def aim(view: View, ground: Array, heading: float, downhill: float, radius: float) -> Camera:
    """The camera of a view.

    Args:
        ground: (3,) [m] where the machine's middle is, on the ground.
        heading: [rad] of the machine; downhill: +1 if its right side is downhill, else -1.
        radius: [m] of the machine about its middle.
    """
    astern = heading + pi
    distance = view.closeness * radius / sin(FIELD / 2.0)
    target = ground + np.array([0.0, 0.0, view.aim])
    # from astern, the machine's right side lies to the left hand: bearing grows
    eye = target + distance * towards(astern + downhill * view.bearing, view.elevation)
    return Camera(eye, target, towards(astern + downhill * view.sun, SUN_HEIGHT))
