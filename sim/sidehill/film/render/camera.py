"""Where a picture is taken from: named views that follow the machine."""

from dataclasses import dataclass
from math import pi, radians, tan

import numpy as np

from sidehill.film.render.light import facing, towards
from sidehill.film.render.shapes import Array

FIELD = radians(32.0)  # angle of view, across the narrower side of a pane


@dataclass(frozen=True)
class View:
    """A way of following; angles as seen from the machine, level horizon."""

    bearing: float  # [rad] of the eye from dead astern, downhill positive
    elevation: float  # [rad] of the eye above level
    wide: float  # half of what is across the picture, over the machine's radius
    high: float  # half of what is up the picture, over the machine's height
    aim: float  # height above the ground of what is looked at, over the machine's height
    sun: float  # [rad] bearing of the sun from dead astern, downhill positive


VIEWS = {
    "downhill": View(radians(34.0), radians(7.0), 0.86, 0.80, 0.46, radians(-28.0)),
    "uphill": View(radians(-38.0), radians(7.0), 0.86, 0.80, 0.46, radians(-66.0)),
    "low": View(radians(12.0), radians(0.5), 0.80, 0.70, 0.44, radians(-40.0)),
    "above": View(radians(18.0), radians(58.0), 0.80, 1.05, 0.25, radians(-40.0)),
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


@dataclass(frozen=True)
class Extent:
    """How large a machine is."""

    radius: float  # [m] about its middle
    top: float  # [m] above the ground


@dataclass(frozen=True)
class Stand:
    """A view fitted to machines and pictures of one size: the same for every pane."""

    view: View
    distance: float  # [m] of the eye from what is looked at
    height: float  # [m] above the ground of what is looked at


def stand_of(view: View, extent: Extent, width: int, height: int) -> Stand:
    """From where machines of an extent fit pictures of a size [pixels]."""
    share = max(view.wide * extent.radius / width, view.high * extent.top / height)
    return Stand(view, 2.0 * focal_length(width, height) * share, view.aim * extent.top)


def aim(stand: Stand, ground: Array, heading: float, downhill: float) -> Camera:
    """The camera for a machine.

    Args:
        ground: (3,) [m] where the machine's middle is, on the ground.
        heading: [rad] of the machine; downhill: +1 if its right side is downhill, else -1.
    """
    view, astern = stand.view, heading + pi
    target = ground + np.array([0.0, 0.0, stand.height])
    # from astern, the machine's right side lies to the left hand: bearing grows
    eye = target + stand.distance * towards(astern + downhill * view.bearing, view.elevation)
    return Camera(eye, target, towards(astern + downhill * view.sun, SUN_HEIGHT))
