"""Two rigid bodies on four contacts, as linear equations: nothing of the package is used.

The body stands on the rear contacts and holds the front axle assembly by a hinge along x, which
passes three forces and two moments; twelve equations, numbers solved by numpy. What the ground
pulls along goes to the rear contacts in proportion to their loads: the system is linear in that
share, so two solutions give it.
"""

import numpy as np
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

X, Y, Z = np.eye(3)
WHEELS = ("front right", "front left", "rear right", "rear left")  # y is to the left


def _column(body, axle, point, force):
    """(12,) forces and moments about the origin that a unit unknown puts on body and axle."""
    own = np.concatenate([force, np.cross(point, force)])
    return np.concatenate([body * own, axle * own])


def _couple(moment):
    return np.concatenate([np.zeros(3), moment, np.zeros(3), -moment])


def solve(machine, toward, share):
    """(13,) loads of the four wheels first, with that part of the pull on the left rear wheel."""
    m = machine
    pin = np.array([m.wheelbase, 0.0, m.pin_height])
    front = [np.array([m.wheelbase, side * m.front_track / 2, 0.0]) for side in (-1, 1)]
    rear = [np.array([0.0, side * m.rear_track / 2, 0.0]) for side in (-1, 1)]
    columns = [_column(0, 1, point, Z) for point in front]
    columns += [_column(1, 0, point, Z) for point in rear]
    columns += [_column(0, 1, np.array([m.wheelbase, 0.0, 0.0]), Y), _column(1, 0, 0 * X, Y)]
    pull = (1 - share) * _column(1, 0, rear[0], X) + share * _column(1, 0, rear[1], X)
    columns += [pull]
    columns += [_column(1, -1, pin, axis) for axis in (X, Y, Z)]
    columns += [_couple(Y), _couple(Z)]
    body, axle = np.array([m.x, m.y, m.h]), np.array([m.wheelbase, 0.0, m.axle_h])
    weight = m.mass * _column(1, 0, body, toward) + m.axle_mass * _column(0, 1, axle, toward)
    return np.linalg.solve(np.array(columns).T, -weight)


def loads(machine, across, ahead):
    """(4,) [kg] in the order of `WHEELS`, per unit of gravity square to the ground.

    Gravity goes as (-ahead, -across, -1).
    """
    toward = np.array([-ahead, -across, -1.0])
    none, all_ = (solve(machine, toward, share)[:4] for share in (0.0, 1.0))
    total = none[2] + none[3]  # whatever the share, and so is what the share's growth adds
    if total <= 0.0:
        return np.array([np.inf, np.inf, total, total])  # tipped over the front axle
    return none + (all_ - none) * none[3] / (total - (all_ - none)[3])


def lift_off(machine, grade):
    """Side slope [rad] at which the first wheel carries nothing, and the loads there."""
    ahead = np.tan(grade)  # the loads are linear in the other tangent, the least of them concave
    across = brentq(lambda t: loads(machine, t, ahead).min(), 0.0, 40.0, xtol=1e-15)
    return np.arctan(across), loads(machine, across, ahead)


def round_lift_off(machine, direction, steps=40):
    """Slope [rad] toward a direction at which the first wheel carries nothing; the loads there."""

    def on(steep):
        return loads(machine, -steep * np.sin(direction), -steep * np.cos(direction))

    grid = np.geomspace(0.01, 20.0, steps)
    above = next(i for i, steep in enumerate(grid) if on(steep).min() <= 0.0)
    steep = brentq(lambda s: on(s).min(), grid[above - 1], grid[above], xtol=1e-15)
    return np.arctan(steep), on(steep)


def _stop(machine):
    """Mass times CG of the whole on four wheels and on the stop, and both tipping lines."""
    m = machine
    contact = np.array([0.0, -m.rear_track / 2, 0.0])
    foot = np.array([m.wheelbase, 0.0, 0.0])
    first = foot + m.pin_height * Z - contact
    axis = first / np.linalg.norm(first)
    body, axle = np.array([m.x, m.y, m.h]) - contact, foot + m.axle_h * Z - contact

    def hinge(angle):
        turn = Rotation.from_rotvec(angle * axis).as_matrix()
        return np.arctan2(turn[2, 1], turn[2, 2]) - m.swing

    turn = Rotation.from_rotvec(brentq(hinge, 0.0, 1.0, xtol=1e-15) * axis).as_matrix()
    yaw = np.arctan2(turn[1, 0], turn[0, 0])
    beside = Rotation.from_euler("z", yaw).apply(-m.front_track / 2 * Y)
    line = foot + beside - contact
    level = m.mass * body + m.axle_mass * axle
    return level, m.mass * (turn @ body) + m.axle_mass * axle, line / np.linalg.norm(line)


def second_stage(machine, grade):
    """Side slope [rad] at which gravity on the whole, on its stop, passes through the line."""
    _, whole, line = _stop(machine)

    def moment(slope):
        return line @ np.cross(whole, [-np.tan(grade), -np.tan(slope), -1.0])

    return brentq(moment, -1.5, 1.5, xtol=1e-15)


def overturn(machine, grade):
    """Fall-through slope [rad] above lift-off of the uphill rear wheel."""
    level, whole, line = _stop(machine)
    start = lift_off(machine, grade)[0]

    def barrier(slope):
        toward = np.array([-np.tan(grade), -np.tan(slope), -1.0])
        turns = [Rotation.from_rotvec(a * line).apply(whole) for a in (0, np.pi / 2, np.pi)]
        here, quarter, half = (-toward @ place for place in turns)
        middle = (here + half) / 2  # height over the turn: middle + c cos + s sin
        return middle + np.hypot(here - middle, quarter - middle) + toward @ level

    end = second_stage(machine, grade)
    if end <= start or barrier(start) <= 0.0:
        return start
    return brentq(barrier, start, end, xtol=1e-15) if barrier(end) < 0.0 else end
