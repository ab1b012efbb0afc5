"""What is watched at every step: attitude, angles, peaks, spells, clocks, the end of a stage.

Peaks and contact times are tracked here, not at the rate of the record.
"""

from math import asin, isfinite, pi

from sidehill.kernels.balance import balance
from sidehill.kernels.clocks import follow_place, follow_roll
from sidehill.kernels.ends import drive_end, follow_slide, is_asked_to_go, settle_end
from sidehill.kernels.fall import fall_end
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import BROKEN, CHASSIS, DRIVE, FALLING, PIN, SETTLE, Records
from sidehill.kernels.spells import follow_spells
from sidehill.kernels.table import tilt, tilt_end

TOO_FAST = 50.0  # [m/s] numbers went bad
TOO_HEAVY = 20.0  # times the whole weight, on one wheel: so did they


@kernel
def tilted(sine: float, upright: float) -> float:
    """[rad] angle of an axis from its sine above a plane, beyond 90 deg if upside down."""
    angle = asin(min(max(sine, -1.0), 1.0))
    if upright >= 0.0:
        return angle
    return pi - angle if angle >= 0.0 else -pi - angle


@kernel
def attitude(cases: Records, states: Records, works: Records) -> None:
    """Roll and pitch of the body to the slope, and its roll to the horizon."""
    case, state, work = cases[0], states[0], works[0]
    R = work.rotation[CHASSIS]
    g, side, before = work.gravity, case.downhill, state.roll
    up = -(R[0, 1] * g[0] + R[1, 1] * g[1] + R[2, 1] * g[2]) / case.gravity
    state.roll = side * tilted(R[2, 1], R[2, 2])
    state.roll_horizon = side * tilted(up, R[2, 2])
    state.roll_rate = (state.roll - before) / case.step
    state.pitch = asin(min(max(R[2, 0], -1.0), 1.0))


@kernel
def larger(a: float, b: float) -> float:
    """Whichever is further from zero, signed."""
    return a if abs(a) >= abs(b) else b


@kernel
def track(cases: Records, states: Records) -> None:
    """Peaks, least angles and stop hits of this step."""
    case, state = cases[0], states[0]
    state.peak_roll = larger(state.peak_roll, state.roll)
    state.peak_roll_horizon = larger(state.peak_roll_horizon, state.roll_horizon)
    state.peak_pitch = larger(state.peak_pitch, state.pitch)
    # past zero it is carried over: how far beyond means nothing
    if state.balance < state.least_balance:
        state.least_balance = max(state.balance, 0.0)
        state.least_balance_step = state.step
    if state.lift_off < state.least_lift_off:
        state.least_lift_off = max(state.lift_off, 0.0)
        state.least_lift_off_step = state.step
    for i in range(4):
        state.least_load[i] = min(state.least_load[i], state.load[i])
        state.peak_load[i] = max(state.peak_load[i], state.load[i])
    # an axle that cannot swing has no stop to hit
    at_stop = 1.0 if 0.0 < case.swing <= abs(state.joint[PIN]) else 0.0
    if at_stop > state.at_stop:
        state.stop_hits += 1.0
    state.at_stop = at_stop


@kernel
def sane(cases: Records, states: Records) -> bool:
    """Whether the numbers are still numbers."""
    state = states[0]
    total = 0.0
    for k in range(3):
        total += abs(state.velocity[k]) + abs(state.turning[k]) + abs(state.position[k]) * 1e-6
    weight = heaviest = 0.0
    for i in range(4):
        total += state.load[i] * 1e-9
        weight += cases[0].level_load[i]
        heaviest = max(heaviest, state.load[i])
    return isfinite(total) and total < TOO_FAST and heaviest < TOO_HEAVY * weight


@kernel
def watch(cases: Records, models: Records, states: Records, works: Records) -> None:
    """Watch one step of the present stage; sets the state's finish code."""
    state = states[0]
    before = state.roll
    attitude(cases, states, works)
    if not sane(cases, states):
        state.finish = BROKEN
        return
    if state.stage == FALLING:
        state.finish = fall_end(cases, states, before)
        return
    balance(cases, models, states, works)
    track(cases, states)
    follow_spells(cases, states)
    follow_roll(states)
    if state.stage == SETTLE:
        state.finish = settle_end(cases, states)
    elif state.stage == DRIVE:
        follow_slide(states)
        follow_place(cases, states, is_asked_to_go(cases, states))
        state.finish = drive_end(cases, states)
    else:
        tilt(cases, states)
        state.finish = tilt_end(cases, states)
