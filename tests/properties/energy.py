"""Energy of a run, from the places of its rows alone."""

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.kernels.kinematics import forward
from sidehill.kernels.layout import STATE, WORK, Vector, blank
from sidehill.run import Track
from sidehill.statics.tipping import GRAVITY


def mechanical(track: Track) -> Vector:
    """(n - 2,) [J] of motion and height of all bodies, springs left out; a row a step.

    Rates are central differences of places, so that the first and the last row have none.
    """
    model, step = track.flat.model[0], track.flat.case["step"][0]
    places, turns = _poses(track)
    velocity = (places[2:] - places[:-2]) / (2.0 * step)
    down = _down(track)
    total = np.zeros(len(places) - 2)
    for b in range(places.shape[1]):
        turn = Rotation.from_matrix(turns[:, b])
        turning = (turn[:-2].inv() * turn[2:]).as_rotvec() / (2.0 * step)
        total += 0.5 * model["mass"][b] * (velocity[:, b] ** 2).sum(axis=1)
        total += 0.5 * np.einsum("ni,ij,nj->n", turning, model["inertia"][b], turning)
        total -= model["mass"][b] * GRAVITY * (places[1:-1, b] @ down)
    return total


def in_springs(track: Track) -> Vector:
    """(n - 2,) [J] that tyres may hold at most.

    A tyre that expands holds more than its load tells, by what the damper keeps: twice is
    enough. Its bristle holds no more than friction lets it.
    """
    case, loads = track.flat.case[0], track.written()["load"][1:-1]
    pressed = loads**2 / case["stiffness"]
    sheared = 0.5 * (case["friction"] * loads) ** 2 / case["shear"]
    held: Vector = (pressed + sheared).sum(axis=1)
    return held


def _poses(track: Track) -> tuple[Vector, Vector]:
    """(n, bodies, 3) [m] centres of mass and (n, bodies, 3, 3) rotations."""
    model = track.flat.model
    count, rows = int(model["bodies"][0]), track.written()
    places, turns = np.empty((len(rows), count, 3)), np.empty((len(rows), count, 3, 3))
    state, work = blank(STATE), blank(WORK)
    for k, row in enumerate(rows):
        for name in ("position", "quaternion", "joint"):
            state[name][0] = row[name]
        forward(model, state, work)
        turns[k] = work["rotation"][0, :count]
        com = np.einsum("bij,bj->bi", turns[k], model["com"][0, :count])
        places[k] = work["place"][0, :count] + com
    return places, turns


def _down(track: Track) -> Vector:
    """(3,) unit vector of gravity."""
    case = track.flat.case[0]
    down = np.array([-case["grade_tan"], -np.tan(case["slope"]) * case["downhill"], -1.0])
    return np.asarray(down / np.linalg.norm(down))
