"""What is watched at every step: attitude, loads, lift-offs, stop hits, the end of a stage.

Peaks and contact times are tracked here, not at the rate of the record.
"""

from math import asin, isfinite, pi, radians, sqrt, tan

from sidehill.kernels.fall import fall_end
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import (
    BROKEN,
    CHASSIS,
    DRIVE,
    FALLING,
    FINISHED,
    LOWER,
    MOST_LIFTS,
    OVERTURNED,
    PIN,
    SETTLE,
    SETTLED,
    STALLED,
    TIMED_OUT,
    UNSETTLED,
    Records,
)

OVER = radians(60.0)  # [rad] past it there is no return
LIGHT = 0.05  # of the level load: below it a wheel counts as lifted
LIFT_TIME = 0.05  # [s] lifted for longer than this is a lift-off
LOADED_TIME = 1.0  # [s] all four wheels loaded before the end
OFF_PATH = 0.5  # [m] off the path with friction saturated: slid
GONE = 8.0  # [m] off the path: a slide is followed no further
STALL_WAY, STALL_TIME = 0.1, 3.0  # [m], [s]
QUIET = 2e-4  # [m/s], [rad/s] settled below it
TOO_FAST = 50.0  # [m/s] numbers went bad
RELEASE_TIME = 6.0  # [s] a held body may fall after its release


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
    t, g = tan(state.slope), case.grade_tan
    side = case.downhill
    up = (R[2, 1] + R[0, 1] * g + R[1, 1] * t * side) / sqrt(1.0 + t * t + g * g)
    state.roll = side * tilted(R[2, 1], R[2, 2])
    state.roll_horizon = side * tilted(up, R[2, 2])
    state.pitch = asin(min(max(R[2, 0], -1.0), 1.0))


@kernel
def log_lift(states: Records, i: int) -> None:
    """Close the present lift-off of wheel `i`."""
    state = states[0]
    n = int(state.lifts)
    if n < MOST_LIFTS:
        state.lift_log[n, 0] = i
        state.lift_log[n, 1] = state.step - state.low_steps[i]
        state.lift_log[n, 2] = state.step
    state.lifts += 1.0


@kernel
def track(cases: Records, states: Records) -> None:
    """Peaks, lift-offs, stop hits and sliding of this step."""
    case, state = cases[0], states[0]
    state.peak_roll = max(state.peak_roll, state.roll)
    state.peak_roll_horizon = max(state.peak_roll_horizon, state.roll_horizon)
    state.peak_pitch = max(state.peak_pitch, abs(state.pitch))
    state.full_steps += 1.0
    saturated = False
    for i in range(4):
        load = state.load[i]
        state.least_load[i] = min(state.least_load[i], load)
        state.peak_load[i] = max(state.peak_load[i], load)
        saturated = saturated or state.slip[i] >= 1.0
        if load < LIGHT * case.level_load[i]:
            state.low_steps[i] += 1.0
            state.full_steps = 0.0
            state.longest_low[i] = max(state.longest_low[i], state.low_steps[i])
        elif state.low_steps[i] > 0.0:
            if state.low_steps[i] * case.step > LIFT_TIME:
                log_lift(states, i)
            state.low_steps[i] = 0.0
    on_stop = 1.0 if abs(state.joint[PIN]) >= case.swing else 0.0
    if on_stop > state.on_stop:
        state.stop_hits += 1.0
    state.on_stop = on_stop
    off = abs(state.off_path)
    state.furthest_off = max(state.furthest_off, off)
    if off > OFF_PATH and saturated:
        state.slid = 1.0
    if state.path > state.gauge_path + STALL_WAY:
        state.gauge_path, state.gauge_step = state.path, state.step


@kernel
def sane(states: Records) -> bool:
    """Whether the numbers are still numbers."""
    state = states[0]
    total = 0.0
    for k in range(3):
        total += abs(state.velocity[k]) + abs(state.turning[k]) + abs(state.position[k]) * 1e-6
    for i in range(4):
        total += state.load[i] * 1e-9
    return isfinite(total) and total < TOO_FAST


@kernel
def drive_end(cases: Records, states: Records) -> float:
    """Why the drive stage ends at this step, or RUNNING."""
    case, state = cases[0], states[0]
    if abs(state.roll) > OVER or abs(state.pitch) > OVER:
        return OVERTURNED
    loaded = state.full_steps * case.step >= LOADED_TIME
    if state.path >= case.length or (state.path >= case.past_features and loaded):
        return FINISHED
    if state.slid == 1.0 and abs(state.off_path) > GONE:
        return FINISHED
    if (state.step - state.gauge_step) * case.step > STALL_TIME:
        return STALLED
    if state.step >= case.most_steps:
        return TIMED_OUT
    return 0.0


@kernel
def settle_end(cases: Records, states: Records) -> float:
    """SETTLED once quiet on four wheels, UNSETTLED when that does not come about."""
    case, state = cases[0], states[0]
    time = state.step * case.step
    if time < case.ramp:
        return 0.0
    quiet = True
    for k in range(3):
        quiet = quiet and abs(state.velocity[k]) < QUIET and abs(state.turning[k]) < QUIET
    if abs(state.roll) > OVER:
        return UNSETTLED
    if not quiet and time < case.settle_most:
        return 0.0
    for i in range(4):
        if state.load[i] < LIGHT * case.level_load[i]:
            return UNSETTLED
    return SETTLED if quiet else UNSETTLED


@kernel
def tilt(cases: Records, states: Records) -> None:
    """The tilt table's slope: quick while all is well loaded, slow near an event.

    When the body is lowered the table waits for it to reach its stop.
    """
    case, state = cases[0], states[0]
    front, rear = (0, 2) if case.downhill > 0.0 else (1, 3)
    on_stop = abs(state.joint[PIN]) >= case.swing
    lifted = state.event_slope[0] > 0.0
    if not lifted and state.load[rear] == 0.0:
        state.event_slope[0] = state.slope
    if state.event_slope[1] == 0.0 and on_stop:
        state.event_slope[1] = state.slope
    if on_stop and state.load[front] > 0.0:
        state.event_slope[2] = state.slope
    watched = front if lifted else rear
    margin = state.load[watched] / case.level_load[watched]
    rate = case.tilt_rate * (1.0 + 7.0 * min(max((margin - 0.1) / 0.3, 0.0), 1.0))
    if case.tilt_mode == LOWER and lifted and not on_stop:
        rate = 0.0
    state.slope = min(state.slope + rate * case.step, case.tilt_most)
    if state.slope < case.tilt_most:
        state.gauge_step = state.step


@kernel
def tilt_end(cases: Records, states: Records) -> float:
    """Why the tilt table ends at this step, or RUNNING."""
    case, state = cases[0], states[0]
    if abs(state.roll) > OVER:
        return OVERTURNED
    if (state.step - state.gauge_step) * case.step > RELEASE_TIME:
        return FINISHED
    if state.step >= case.most_steps:
        return TIMED_OUT
    return 0.0


@kernel
def watch(cases: Records, states: Records, works: Records) -> None:
    """Watch one step of the present stage; sets the state's finish code."""
    state = states[0]
    before = state.roll
    attitude(cases, states, works)
    if not sane(states):
        state.finish = BROKEN
        return
    if state.stage == SETTLE:
        state.finish = settle_end(cases, states)
        return
    if state.stage == FALLING:
        state.finish = fall_end(cases, states, before)
        return
    track(cases, states)
    if state.stage == DRIVE:
        state.finish = drive_end(cases, states)
    else:
        tilt(cases, states)
        state.finish = tilt_end(cases, states)
