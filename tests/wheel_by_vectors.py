"""The tyre law written again as vectors and brute force: slow, plain, for comparison."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.optimize import minimize_scalar

from sidehill.kernels.layout import SETTLE, Vector

UP = np.array([0.0, 0.0, 1.0])
SPAN = 0.9  # of the section's width, from the middle of the first disc's share to the last's
FINE = np.radians(np.linspace(-89.9, 89.9, 1200))  # of the rim, from straight down

Surface = Callable[[float, float], tuple[float, float, float]]  # height and gradient
Heights = Callable[[Vector, Vector], Vector]  # (n,) of places x, y (n,)


@dataclass(frozen=True)
class Motion:
    """Of a wheel's hub: velocity, angular velocity without the spin, spin."""

    velocity: Vector
    turning: Vector
    spin: float

    def at(self, place: Vector, axle: Vector) -> Vector:
        """[m/s] of the wheel's material at a place [m] from its centre."""
        return self.velocity + np.cross(self.turning + self.spin * axle, place)


@dataclass(frozen=True)
class Answer:
    """What a wheel feels, and what it keeps."""

    force: Vector
    moment: Vector
    foot: Vector
    load: float
    bristle: Vector
    slip: float


def unit(vector: Vector) -> Vector:
    return np.asarray(vector / np.linalg.norm(vector))


def wheel_by_vectors(
    case: Any, i: int, stage: int, bristle: Vector, surface: Surface, heights: Heights,
    centre: Vector, axle: Vector, before: Motion, now: Motion, softness: float,
) -> Answer:  # fmt: skip
    """Discs, each a spring and a damper square to the ground at its deepest rim point; then the
    bristle, by the trapezoid rule; the whole force acts at the patch that the rim left behind."""
    down, ahead = -unit(UP - (UP @ axle) * axle), unit(np.cross(axle, UP))
    n = int(case["discs"])
    force, moment, foot, load = np.zeros(3), np.zeros(3), np.zeros(3), 0.0
    for share in (np.arange(n) + 0.5) / n - 0.5:
        middle = share * SPAN * case["section"][i] * axle

        def rim(angle: float, middle: Vector = middle) -> Vector:
            arm = np.cos(angle) * down + np.sin(angle) * ahead
            return np.asarray(middle + case["radius"][i] * arm)

        def sunk(angle: float, rim: Callable[[float], Vector] = rim) -> float:
            place = centre + rim(angle)
            return float(surface(place[0], place[1])[0] - place[2])

        places = (
            centre
            + middle
            + case["radius"][i] * (np.cos(FINE)[:, None] * down + np.sin(FINE)[:, None] * ahead)
        )
        best = FINE[int(np.argmax(heights(places[:, 0], places[:, 1]) - places[:, 2]))]
        step = FINE[1] - FINE[0]
        found = minimize_scalar(
            lambda angle: -sunk(angle), bounds=(best - step, best + step), method="bounded",
            options={"xatol": 1e-9},
        )  # fmt: skip
        r = rim(found.x)
        _, gx, gy = surface(*(centre + r)[:2])
        normal = unit(np.array([-gx, -gy, 1.0]))
        depth = sunk(found.x) * normal[2]
        away = normal @ (now.velocity + np.cross(now.turning, r))
        push = (case["stiffness"][i] * depth - softness * case["damping"][i] * away) / n
        if depth > 0.0 and push > 0.0:
            load += push
            force += push * normal
            moment += np.cross(r, push * normal)
            foot += push * r
    if load == 0.0:
        return Answer(force, moment, foot, load, np.zeros(2), 0.0)
    foot = foot / load
    normal = unit(force)
    forward = unit(np.cross(axle, normal))
    frame = np.array([forward, np.cross(normal, forward)])
    bristle, pull, slip = _tangential(
        case, i, stage, bristle, load, frame @ before.at(foot, axle), frame @ now.at(foot, axle),
        before.spin, softness,
    )  # fmt: skip
    held = pull @ frame
    moment += np.cross(foot, held)
    force = force + held
    moment += np.cross(-bristle[1] * frame[1], force)
    return Answer(force, moment, foot, load, bristle, slip)


def _tangential(
    case: Any, i: int, stage: int, bristle: Vector, load: float, went: Vector, goes: Vector,
    spin: float, softness: float,
) -> tuple[Vector, Vector, float]:  # fmt: skip
    """New bristle [m] and its force [N], forward and left, and the share of the friction used."""
    dt, k, c = case["step"], case["shear"][i], 0.5 * case["damping"][i]
    fade = abs(spin) * case["radius"][i] / case["relaxation"]
    # ds/dt = went - fade s, from one middle of a step to the next
    new = (bristle + dt * (went - 0.5 * fade * bristle)) / (1.0 + 0.5 * dt * fade)
    friction = max(case["friction"], 1.5) if stage == SETTLE else case["friction"]
    most, stretch = friction * load, k * float(np.linalg.norm(new))
    if stretch >= most:
        new = new * most / stretch
        return new, -k * new, 1.0
    pull = -k * new - c * np.array([1.0, softness]) * (goes - fade * new)
    size = float(np.linalg.norm(pull))
    return new, pull * min(1.0, most / size), stretch / most
