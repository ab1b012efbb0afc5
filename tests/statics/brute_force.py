"""The two-stage path by turning points numerically: no closed form of the package is used."""

from typing import NamedTuple

import numpy as np
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

ANGLES = 20_001


class Path(NamedTuple):
    """Mass times CG of the whole machine along the way over, (n, 3) [kg m]."""

    first: np.ndarray
    second: np.ndarray


def _hinge(axis, angle):
    turn = Rotation.from_rotvec(angle * axis).as_matrix()
    return np.arctan2(turn[2, 1], turn[2, 2])


def two_stages(machine, second_sweep=1.6):
    """The path, from four wheels to the stop and on to well past the top."""
    contact = np.array([0.0, -machine.rear_track / 2, 0.0])
    foot = np.array([machine.wheelbase, 0.0, 0.0])
    pin = foot + np.array([0.0, 0.0, machine.pin_height])
    axis = (pin - contact) / np.linalg.norm(pin - contact)
    body = np.array([machine.x, machine.y, machine.h]) - contact
    axle = machine.axle_mass * (foot + np.array([0.0, 0.0, machine.axle_h]))

    stop = brentq(lambda angle: _hinge(axis, angle) - machine.swing, 0.0, 1.0, xtol=1e-14)
    turns = Rotation.from_rotvec(np.linspace(0.0, stop, ANGLES)[:, None] * axis)
    first = machine.mass * (contact + turns.apply(body)) + axle

    at_stop = turns[-1].as_matrix()
    yaw = Rotation.from_euler("z", np.arctan2(at_stop[1, 0], at_stop[0, 0]))
    front = foot + yaw.apply([0.0, -machine.front_track / 2, 0.0])
    line = (front - contact) / np.linalg.norm(front - contact)
    whole = first[-1] - (machine.mass + machine.axle_mass) * contact
    turns = Rotation.from_rotvec(np.linspace(0.0, second_sweep, ANGLES)[:, None] * line)
    second = turns.apply(whole) + (machine.mass + machine.axle_mass) * contact
    return Path(first, second)


def potential(moments, slope, grade):
    """[J] for each (n, 3) mass times CG."""
    toward = np.array([-np.tan(grade), -np.tan(slope), -1.0])
    return -9.81 * moments @ (toward / np.linalg.norm(toward))


def _initial_fall(moments, slope, grade):
    start, then = potential(moments[:2], slope, grade)
    return start - then


def lift_off(path, grade):
    """Side slope at which the first step of stage one begins to fall [rad]."""
    return brentq(lambda s: _initial_fall(path.first, s, grade), -1.5, 1.5, xtol=1e-12)


def second_stage(path, grade):
    """Side slope at which the first step of stage two begins to fall [rad]."""
    return brentq(lambda s: _initial_fall(path.second, s, grade), -1.5, 1.5, xtol=1e-12)


def energy(path, slope, grade):
    """Rise from four wheels to the highest point of the path [J]."""
    heights = potential(np.vstack(path), slope, grade)
    return heights.max() - heights[0]


def second_barrier(path, slope, grade):
    """Rise from four wheels to the highest point of stage two [J]; negative: the fall clears it."""
    start = potential(path.first[:1], slope, grade)[0]
    return potential(path.second, slope, grade).max() - start


def overturn(path, grade):
    """Lowest slope from lift-off on at which the second barrier is no higher than the start."""
    start = lift_off(path, grade)
    if second_barrier(path, start, grade) <= 0.0:
        return start
    end = second_stage(path, grade) + 1e-4
    return brentq(lambda s: second_barrier(path, s, grade), start, end, xtol=1e-9)
