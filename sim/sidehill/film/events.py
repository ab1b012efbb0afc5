"""What happens in a take that a film must show."""

from dataclasses import dataclass
from math import cos, pi, radians, sin

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render.model import Model
from sidehill.film.render.relief import relief
from sidehill.film.render.scene import Scene
from sidehill.film.render.shapes import Array
from sidehill.film.take import Take
from sidehill.kernels.ends import OVER
from sidehill.kernels.spells import SHORTEST
from sidehill.machine.linkage import WHEELS

SEEN = 0.040  # [m] gap under a wheel at which a film stops: plain to see
LEAST = 0.010  # [m] where a lift-off stays lower than that; under this nothing is seen
GOING = radians(25.0)  # [rad] roll from which an overturn is under way
ROUNDING = 1e-9  # [rad]
RIM = 33  # points looked at along the lower half of a wheel


@dataclass(frozen=True)
class Daylight:
    """The first moment at which light shows under a wheel."""

    time: float  # [s]
    gap: float  # [m]
    since: float  # [s] when the wheel came off the ground
    wheel: int  # place in WHEELS


def wheel_size(model: Model, wheel: int) -> tuple[float, float]:
    """Radius and half width [m] of a wheel as drawn."""
    link = model.links.index(f"wheel_{WHEELS[wheel]}")
    points = model.points[model.link_of == link]
    return float(np.hypot(points[:, 0], points[:, 2]).max()), float(np.abs(points[:, 1]).max())


def lowest(scene: Scene, wheel: int, time: float) -> tuple[Array, float]:
    """Point (3,) [m] of a wheel that is nearest to the ground, and its height above it [m].

    In the hillside frame; the height is negative where the tyre is pressed flat.
    """
    link = scene.take.links.index(f"wheel_{WHEELS[wheel]}")
    turns, places = scene.take.pose(time)
    radius, half = wheel_size(scene.model, wheel)
    axle = turns[link][:, 1]
    down = np.array([0.0, 0.0, -1.0]) + axle[2] * axle
    down /= np.linalg.norm(down)
    forward = np.cross(axle, down)
    angles = np.linspace(-pi / 2, pi / 2, RIM)
    rim = np.array([cos(a) * down + sin(a) * forward for a in angles]) * radius
    points = places[link] + np.concatenate([rim - half * axle, rim, rim + half * axle])
    ground = np.empty(len(points))
    relief(points[:, 0].copy(), points[:, 1].copy(), scene.setting.relief, ground)
    heights = points[:, 2] - ground
    least = int(np.argmin(heights))
    return points[least], float(heights[least])


def first_daylight(scene: Scene) -> Daylight | None:
    """The first row at which an unloaded wheel is `SEEN` above the ground, or at its highest."""
    take, found = scene.take, []
    for wheel in range(len(WHEELS)):
        for during in spans(take.loads[:, wheel] <= 0.0, take.times):
            gaps = np.array([lowest(scene, wheel, float(time))[1] for time in during])
            if gaps.max() >= LEAST:
                first = int(np.argmax(gaps >= min(SEEN, gaps.max())))
                found.append(
                    Daylight(float(during[first]), float(gaps[first]), float(during[0]), wheel)
                )
                break
    return min(found, key=lambda daylight: daylight.time, default=None)


def spans(flags: NDArray[np.bool_], times: Array) -> list[Array]:
    """Times of every unbroken row of flags that lasts long enough to count."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]])))
    parts = [times[start:end] for start, end in edges.reshape(-1, 2)]
    return [part for part in parts if part[-1] - part[0] > SHORTEST]


def overturning(take: Take) -> tuple[float, float] | None:
    """[s] from when a body is past `GOING` until it is past `OVER`; None if it never is."""
    roll = np.abs(take.roll)
    over = np.flatnonzero(roll >= OVER - ROUNDING)
    if not len(over):
        return None
    upright = np.flatnonzero(roll[: over[0]] <= GOING)
    start = upright[-1] + 1 if len(upright) else 0
    return float(take.times[start]), float(take.times[over[0]])
