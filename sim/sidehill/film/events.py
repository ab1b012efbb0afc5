"""What happens in a take that a film must show."""

from dataclasses import dataclass
from math import pi, radians

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
from sidehill.run.outcome import Outcome

SEEN = 0.040  # [m] gap under a wheel at which a film stops: plain to see
LEAST = 0.010  # [m] where a lift-off stays lower than that; under this nothing is seen
GOING = radians(25.0)  # [rad] roll from which an overturn is under way
ROUNDING = 1e-9  # [rad]
RIM = 33  # points looked at along the lower half of a wheel
TOUCHING = radians(0.1)  # the axle this near to its stop is on it
HUNG = ("on_stop", "overturned")  # what a machine that came onto its stop is called
REAR = ((2, 0, -1.0), (3, 1, 1.0))  # rear wheels, the front ones before them, the pin's sense


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
    (radius, half), axle, place = wheel_size(scene.model, wheel), turns[link, :, 1], places[link]
    down = np.array([0.0, 0.0, -1.0]) + axle[2] * axle
    down /= np.linalg.norm(down)
    angles = np.linspace(-pi / 2, pi / 2, RIM)[:, None]
    rim = place + radius * (np.cos(angles) * down + np.sin(angles) * np.cross(axle, down))
    points = np.concatenate([rim - half * axle, rim, rim + half * axle])
    ground = np.empty(len(points))
    relief(points[:, 0].copy(), points[:, 1].copy(), scene.setting.relief, ground)
    heights = points[:, 2] - ground
    least = int(heights.argmin())
    return points[least], float(heights[least])


def first_daylight(scene: Scene) -> Daylight | None:
    """The first row at which an unloaded wheel is `SEEN` above the ground, or at its highest, as
    the run itself measured it."""
    take, found = scene.take, []
    for wheel in range(len(WHEELS)):
        for first, last in runs_of(take.loads[:, wheel] <= 0.0):
            if take.times[last] - take.times[first] <= SHORTEST:
                continue
            gaps = take.gaps[first : last + 1, wheel]
            if gaps.max() >= LEAST:
                seen = int(np.argmax(gaps >= min(SEEN, gaps.max())))
                time, since = float(take.times[first + seen]), float(take.times[first])
                found.append(Daylight(time, float(gaps[seen]), since, wheel))
                break
    return min(found, key=lambda daylight: daylight.time, default=None)


def runs_of(flags: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and last row of every unbroken run of flags."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]])))
    return [(int(first), int(past) - 1) for first, past in edges.reshape(-1, 2)]


def on_its_stop(
    take: Take, swing: float, outcome: Outcome, over: tuple[float, float] | None
) -> tuple[tuple[float, float], ...]:
    """[s] from when to when a machine hangs on its axle stop; none if its run never did.

    A rear wheel is up and the pin at its stop on the side the body rolled away to, as
    `kernels.spells.hangs` has it: the axle lags behind a body that leans to the right, its pin is
    then turned to the negative. Without any swing the front wheel of that side is up as well.
    A tilt table has no facts to go by. Past 60 deg nothing is followed.
    """
    if outcome.stability is not None and outcome.stability not in HUNG:
        return ()
    up = take.loads <= 0.0
    found = np.zeros(len(take.times), dtype=bool)
    for rear, front, sense in REAR:
        stopped = up[:, front] if swing < TOUCHING else sense * take.pin >= swing - TOUCHING
        found |= up[:, rear] & stopped
    found &= take.times <= (np.inf if over is None else over[1])
    return tuple((float(take.times[a]), float(take.times[b])) for a, b in runs_of(found))


def overturning(take: Take) -> tuple[float, float] | None:
    """[s] from when a body is past `GOING` until it is past `OVER`; None if it never is."""
    roll = np.abs(take.roll)
    over = np.flatnonzero(roll >= OVER - ROUNDING)
    if not len(over):
        return None
    upright = np.flatnonzero(roll[: over[0]] <= GOING)
    start = upright[-1] + 1 if len(upright) else 0
    return float(take.times[start]), float(take.times[over[0]])
