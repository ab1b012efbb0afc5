"""Compliant statics: where a machine rests on its tyres, followed as the slope grows.

The forces are those of the simulation's own kernels, with rates replaced by small moves:
one pseudo-step of one second without damping, so that bristles and brakes stretch by the
move itself. Newton's method finds each pose; nothing is integrated. A loader that moves on
the way stands where its schedule begins.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf, radians

import numpy as np

from sidehill.flat import Flat
from sidehill.kernels.layout import PIN, SETTLE, WORK, Records, Vector, blank
from sidehill.kernels.step import rest_forces

SLOPE_STEP = radians(0.25)  # of the continuation
PIN_STEP = radians(0.25)  # while the body is lowered onto its stop
FINEST = radians(1e-4)  # to which the end of a branch is found
TOUCH = 1e-6  # [rad] past the stop, so that it counts as touched
UNLOADED = 1e-3  # of the weight: a wheel that carries less has reached its lift-off
LOADED = 0.05  # of the weight: a machine slides when a wheel that carries this does
MOST_TURNS = 30  # of Newton's method
BALANCED = 1e-7  # [N], [N m] per newton of weight


@dataclass(frozen=True)
class RestSlopes:
    """Side slopes on compliant tyres [rad]; NaN where the state does not exist."""

    lift_off: float  # the rest on four wheels ends: an uphill wheel's load reaches zero
    second_stage: float  # lowered gently, on its stop: the uphill front wheel's load does
    comes_back: float  # going back from there: the stop lets go, four wheels again
    carried: float  # [N] by the uphill rear wheel still, where the body falls away before it lifts
    front_first: bool = False  # the wheel that lifts is the front one


class Rest:
    """A machine at rest, moved along by small changes of the slope.

    It is held by its own brakes, as statics have it, or on all wheels, as before a drive.
    """

    def __init__(self, flat: Flat, on_all_wheels: bool = False) -> None:
        self.flat, self.work = flat, blank(WORK)
        self.case = flat.case.copy()
        case = self.case[0]
        self.weight = float(case["level_load"].sum())
        case["step"], case["relaxation"] = 1.0, inf
        for name in ("damping", "stop_damping", "steer_damping", "brake_damping", "lift_damping"):
            case[name] = 0.0
        case["rolling_resistance"] = 0.0
        case["held"] = float(on_all_wheels)
        self.joints = int(flat.model["bodies"][0]) - 1
        self.state = flat.start()
        self.state["stage"] = SETTLE
        if not self.move(0.0):
            raise ArithmeticError("no level rest was found")

    def move(self, slope: float, pin: float | None = None) -> bool:
        """Go to the rest on another slope [rad]; False, and nothing changed, if there is none.

        pin: [rad] holds the pin at that angle instead of leaving it free.
        """
        unknown = np.zeros(6 + self.joints)
        for _ in range(MOST_TURNS):
            here, state = self._residual(unknown, slope, pin)
            if np.abs(here).max() < BALANCED * self.weight:
                self.state = state
                return True
            slopes = np.empty((len(unknown), len(unknown)))
            for k in range(len(unknown)):
                nudged = unknown.copy()
                nudged[k] += 1e-8
                slopes[:, k] = (self._residual(nudged, slope, pin)[0] - here) / 1e-8
            try:
                turn = np.linalg.solve(slopes, -here)
            except np.linalg.LinAlgError:
                return False
            size = np.abs(turn).max()
            if not np.isfinite(size):
                return False
            unknown += turn * min(1.0, 0.02 / size)
        return False

    def _residual(self, move: Vector, slope: float, pin: float | None) -> tuple[Vector, Records]:
        """Generalised forces (6 + joints,) after a move, and the state there."""
        state = self.state.copy()
        values = state[0]
        values["slope"] = slope
        values["position"] += move[:3]
        values["quaternion"][:] = _turned(values["quaternion"], move[3:6])
        values["joint"][: self.joints] += move[6:]
        values["velocity"][:], values["turning"][:] = move[:3], move[3:6]
        values["rate"][: self.joints] = move[6:]
        rest_forces(self.case, self.flat.model, state, self.work, self.flat.ground)
        work = self.work[0]
        force = np.concatenate(
            [work["base_force"], work["base_moment"], work["joint_force"][: self.joints]]
        )
        if pin is not None:
            force[6 + PIN] = (values["joint"][PIN] - pin) * self.weight
        return force, state

    @property
    def slope(self) -> float:
        """[rad] of the present rest."""
        return float(self.state["slope"][0])

    @property
    def uphill_loads(self) -> tuple[float, float]:
        """[N] on the uphill front and rear wheel."""
        loads = self.state["load"][0]
        front = 0 if self.case["downhill"][0] > 0.0 else 1
        return float(loads[front]), float(loads[front + 2])

    def slides(self) -> bool:
        """Whether a wheel that matters is at its friction limit."""
        loads, slips = self.state["load"][0], self.state["slip"][0]
        return bool(slips[loads > LOADED * self.weight].max() >= 1.0)

    def rests_on_stop(self) -> bool:
        """Whether the pin is at its stop."""
        return bool(abs(self.state["joint"][0, PIN]) >= self.case["swing"][0])

    def follow(self, keeps: Callable[["Rest"], bool], step: float) -> float:
        """[rad] slope at which a condition ends, stepping by `step` (signed) and refining.

        The machine is left at rest just before it.
        """
        while abs(step) > FINEST:
            before = self.state
            if not self.move(self.slope + step) or not keeps(self):
                self.state = before
                step *= 0.5
        return self.slope

    def lift(self) -> float:
        """[rad] slope at which its rest on four wheels ends; it is left just before that."""
        return self.follow(lambda r: min(r.uphill_loads) > 0.0, SLOPE_STEP)

    def lower(self) -> bool:
        """Lower the body onto its stop at the present slope; False if it does not rest there."""
        toward = -float(self.case["downhill"][0])
        target, step = float(self.case["swing"][0]), PIN_STEP
        while not self.rests_on_stop():
            angle = abs(float(self.state["joint"][0, PIN]))
            if not self.move(self.slope, toward * min(angle + step, target + TOUCH)):
                step *= 0.5
            if step < FINEST:
                return False
        return self.move(self.slope) and self.rests_on_stop()


def _turned(quaternion: Vector, turn: Vector) -> Vector:
    """(4,) a quaternion x y z w turned by a rotation vector [rad] in world axes."""
    angle = float(np.linalg.norm(turn))
    x, y, z = 0.5 * np.sinc(0.5 * angle / np.pi) * turn
    a = np.array([x, y, z, np.cos(0.5 * angle)])
    b = quaternion
    product = np.array(
        [
            a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
            a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
            a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
            a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
        ]
    )
    return np.asarray(product / np.linalg.norm(product))


def rest_slopes(flat: Flat) -> RestSlopes:
    """Lift-off, second stage and coming back, on the case's own ground and tyres.

    On soft ground the rest on four wheels can end, the body falling away, while the uphill
    rear wheel still carries something: that end is the lift-off then. A machine that slides
    away before has none; its friction is taken as at least that which holds it while settling.
    Where the front wheel lifts before the rear one there is nothing more: the body is not swinging.
    """
    nan = float("nan")
    rest = Rest(flat)
    lift_off = rest.lift()
    front, left = rest.uphill_loads
    carried = left if left > UNLOADED * rest.weight else 0.0
    if carried > 0.0 and front <= UNLOADED * rest.weight:
        return RestSlopes(lift_off, nan, nan, 0.0, front_first=True)
    if carried > 0.0 and rest.slides():
        return RestSlopes(nan, nan, nan, carried)
    if not rest.lower():
        return RestSlopes(lift_off, nan, nan, carried)
    lowered = rest.state
    second = rest.follow(lambda r: r.uphill_loads[0] > 0.0 and r.rests_on_stop(), SLOPE_STEP)
    rest.state = lowered
    back = rest.follow(Rest.rests_on_stop, -SLOPE_STEP)
    return RestSlopes(lift_off, second, back, carried)
