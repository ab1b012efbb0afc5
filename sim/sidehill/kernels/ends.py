"""When a run ends, and why: never in mid-fall, and never early because all is well."""

from math import inf, radians

from sidehill.kernels.clocks import STUCK_TIME, lasted
from sidehill.kernels.driver import is_braking
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import (
    ACROSS,
    ALWAYS,
    CUT,
    HALTED,
    LEANING,
    NEVER,
    OVERTURNED,
    SETTLED,
    SLID,
    STUCK,
    Records,
)

OVER = radians(60.0)  # past it there is no return
FALLING_RATE = radians(1.0)  # [rad/s] with a wheel up, a machine that rolls faster is falling
OFF_PATH, BACK = 0.5, 0.5  # [m] off the path with an axle saturated, or back along it: slid
GONE = 8.0  # [m] off the path, or back along it: a slide is followed no further
STAND_TIME = 1.0  # [s] a stand has lasted; all wheels down at the end of the course
LEAN_TIME, ROUGH_LEAN_TIME = 2.0, 6.0  # [s] with a wheel up, the latter on rough ground
QUIET = 2e-4  # [m/s], [rad/s] settled below it
LOADED_TIME = 0.25  # [s] all four wheels loaded before the start


@kernel
def is_over(states: Records) -> bool:
    """Whether it is past the point of no return, to whichever side."""
    state = states[0]
    return bool(abs(state.roll) >= OVER or abs(state.pitch) >= OVER)


@kernel
def is_falling(states: Records) -> bool:
    """Whether a wheel is up and the body rolls, or the whole has lost its balance."""
    state = states[0]
    moves = abs(state.roll_rate) > FALLING_RATE or state.balance <= 0.0
    return bool(state.lean_steps > 0.0 and moves)


@kernel
def follow_slide(states: Records) -> None:
    """Whether it has left its path for good, or gone back on it."""
    state = states[0]
    off = abs(state.off_path)
    state.furthest_off = max(state.furthest_off, off)
    state.furthest_path = max(state.furthest_path, state.path)
    if state.path < state.furthest_path - BACK:
        state.slid = 1.0
    if off <= OFF_PATH:
        return
    for i in (0, 2):  # a wheel in the air holds nothing either
        left = state.slip[i] >= 1.0 or state.load[i] == 0.0
        right = state.slip[i + 1] >= 1.0 or state.load[i + 1] == 0.0
        if left and right:
            state.slid = 1.0


@kernel
def is_to_stand(cases: Records, states: Records) -> bool:
    """Whether the scenario orders a stand for good by now: parked, coasting out, or braked."""
    case, state = cases[0], states[0]
    if case.stand == NEVER:
        return False
    return bool(case.stand == ALWAYS or state.brake_step > 0.0)


@kernel
def is_asked_to_go(cases: Records, states: Records) -> bool:
    """Whether it is to hold a speed at this moment."""
    case, state = cases[0], states[0]
    if case.speed == 0.0 or case.hold_speed == 0.0 or is_to_stand(cases, states):
        return False
    braked = state.brake_step > 0.0 and is_braking(cases, states)
    return not (braked and case.declutch == 1.0)


@kernel
def is_done(cases: Records, states: Records) -> bool:
    """Whether the course's end and all that was scheduled lie behind it."""
    case, path = cases[0], states[0].path
    if path < case.length or path < case.features_end or path < case.schedule_end:
        return False
    return not (case.brake_time < inf and is_braking(cases, states))


@kernel
def is_stuck(cases: Records, states: Records) -> bool:
    """Whether it has not got on for too long, and does not fall meanwhile."""
    state = states[0]
    if not lasted(cases, states, state.gauge_step, STUCK_TIME):
        return False
    if state.lean_steps == 0.0:
        return True
    return not is_falling(states) and lasted(cases, states, state.rocking_step, STUCK_TIME)


@kernel
def is_gone(cases: Records, states: Records) -> bool:
    """Whether it has slid off too far to be followed on, and does not fall meanwhile."""
    state = states[0]
    if max(abs(state.off_path), state.furthest_path - state.path) <= GONE:
        return False
    if state.lean_steps == 0.0:
        return True
    calm = lasted(cases, states, state.rocking_step, STAND_TIME)
    return bool(calm and not is_falling(states))


@kernel
def leans(cases: Records, states: Records) -> bool:
    """Whether it has leant with a wheel up for so long that it will go on leaning."""
    case, state = cases[0], states[0]
    up = state.lean_steps * case.step
    if case.rough == 1.0:
        return bool(up >= ROUGH_LEAN_TIME and not is_falling(states))
    return bool(up >= LEAN_TIME and lasted(cases, states, state.steady_step, LEAN_TIME))


@kernel
def drive_end(cases: Records, states: Records) -> float:
    """Why the drive stage ends at this step, or RUNNING."""
    case, state = cases[0], states[0]
    if is_over(states):
        return OVERTURNED
    to_stand = is_to_stand(cases, states)
    stands = state.stand_steps * case.step >= STAND_TIME and state.lean_steps == 0.0
    if state.slid == 1.0 and (stands or is_gone(cases, states)):
        return SLID
    if is_stuck(cases, states):
        return STUCK
    if to_stand and stands:
        return HALTED
    done = is_done(cases, states) and not (to_stand and case.stand != ALWAYS)
    if (done or to_stand or state.slid == 1.0) and leans(cases, states):
        return LEANING
    if done and state.clear_steps * case.step >= STAND_TIME:
        return ACROSS
    late = state.step - case.most_steps
    if late >= case.extra_steps or (late >= 0.0 and not is_falling(states)):
        return CUT
    return 0.0


@kernel
def settle_end(cases: Records, states: Records) -> float:
    """SETTLED once quiet on four wheels; else it goes on until it leans, goes over, or time is up.

    A wheel is on the ground if it carries anything at all.
    """
    case, state = cases[0], states[0]
    time = state.step * case.step
    if is_over(states):
        return OVERTURNED
    if time < case.ramp:
        return 0.0
    quiet = True
    for k in range(3):
        quiet = quiet and abs(state.velocity[k]) < QUIET and abs(state.turning[k]) < QUIET
    if quiet and state.clear_steps * case.step >= LOADED_TIME:
        return SETTLED
    if leans(cases, states):
        return LEANING
    return CUT if time >= case.settle_most and not is_falling(states) else 0.0
