"""Clocks of a run: how long it has not got on, not rolled, not moved at all.

Each holds where the machine was and begins again there when it has moved on; all begin anew
with a stage.
"""

from math import radians, sqrt

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import SPIN, Records

STUCK_SHARE, STUCK_TIME = 0.1, 3.0  # of the way asked for, [s]
STEADY = radians(0.5)  # [rad] range of the roll of a machine that leans
ROCKING = radians(2.0)  # [rad] the same of one that leans with its wheels spinning
STILL = 0.01  # [m/s] slower than this is a stand
SPENT = 0.999  # of the drive's torque: at its limit


@kernel
def begin_clocks(states: Records) -> None:
    """All clocks begin here and now."""
    state = states[0]
    state.gauge[0], state.gauge[1] = state.position[0], state.position[1]
    state.gauge_step, state.steady_step, state.rocking_step = state.step, state.step, state.step
    state.steady[:] = state.roll
    state.rocking[:] = state.roll
    state.spun[:] = 0.0
    state.spent_steps, state.stand_steps = 0.0, 0.0
    state.clear_steps, state.lean_steps = 0.0, 0.0


@kernel
def widen(limits: Records, roll: float, widest: float) -> bool:
    """Whether `roll` fits into a range (2,) no wider than `widest`; if not, it begins anew."""
    limits[0], limits[1] = min(limits[0], roll), max(limits[1], roll)
    if limits[1] - limits[0] <= widest:
        return True
    limits[0], limits[1] = roll, roll
    return False


@kernel
def follow_roll(states: Records) -> None:
    """Since when the roll has stayed where it is."""
    state = states[0]
    if not widen(state.steady, state.roll, STEADY):
        state.steady_step = state.step
    if not widen(state.rocking, state.roll, ROCKING):
        state.rocking_step = state.step


@kernel
def follow_place(cases: Records, states: Records, asked: bool) -> None:
    """Since when it has not got on, whatever way it went, and what its wheels did meanwhile.

    asked: whether it is to hold a speed at this moment.
    """
    case, state = cases[0], states[0]
    v = state.velocity
    speed = sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2])
    state.stand_steps = state.stand_steps + 1.0 if speed < STILL else 0.0
    dx, dy = state.position[0] - state.gauge[0], state.position[1] - state.gauge[1]
    if not asked or sqrt(dx * dx + dy * dy) > STUCK_SHARE * STUCK_TIME * case.slowest:
        state.gauge[0], state.gauge[1] = state.position[0], state.position[1]
        state.gauge_step = state.step
        state.spun[:] = 0.0
        state.spent_steps = 0.0
        return
    for i in range(4):
        rim = abs(state.rate[SPIN + i]) * case.radius[i]
        state.spun[i] += max(rim - speed, 0.0) * case.step
    if abs(state.drive_torque) >= SPENT * case.drive_most:
        state.spent_steps += 1.0


@kernel
def lasted(cases: Records, states: Records, since: float, time: float) -> bool:
    """Whether `time` [s] have gone by since a step."""
    return bool((states[0].step - since) * cases[0].step >= time)
