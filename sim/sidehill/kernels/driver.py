"""Steering, drive, brakes: what the driver and the drive train do, as force laws."""

from math import atan, atan2, cos, hypot, sin, tan

from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import add_force
from sidehill.kernels.layout import CHASSIS, SPIN, STEER_L, STEER_R, WHEEL_RL, WHEEL_RR, Records

CREEP = 0.05  # [m/s] below it rolling resistance fades


@kernel
def locate(cases: Records, states: Records, forward_x: float, forward_y: float) -> float:
    """Path length and offset of the rear axle centre into the state; heading error [rad].

    The course runs along +x and, past `turn_at`, on a circle; past its length it goes straight
    on. Offset and heading error are positive to the left.
    """
    case, state = cases[0], states[0]
    x, y = state.position[0], state.position[1]
    heading = atan2(forward_y, forward_x)
    curvature = case.turn_curvature
    if curvature == 0.0 or (x < case.turn_at and abs(heading) < 1.5):
        state.path, state.off_path = x, y
        return heading
    side, radius = (1.0, 1.0 / curvature) if curvature > 0.0 else (-1.0, -1.0 / curvature)
    dx, dy = x - case.turn_at, side * y - radius
    turned = atan2(dx, -dy)
    whole = (case.length - case.turn_at) / radius
    if turned > whole:  # beyond the end of the turn
        ex, ey = dx - radius * sin(whole), dy + radius * cos(whole)
        turned = whole
        state.path = case.length + ex * cos(whole) + ey * sin(whole)
        state.off_path = side * (ey * cos(whole) - ex * sin(whole))
    else:
        state.path = case.turn_at + turned * radius
        state.off_path = side * (radius - hypot(dx, dy))
    error = heading - side * turned
    return atan2(sin(error), cos(error))


@kernel
def steer(cases: Records, states: Records, error: float, speed: float) -> None:
    """The driver's look: a new steering target from offset, heading and a slow integral.

    The heading aimed at is the one at which the tyres' slip holds the slope.
    """
    case, state = cases[0], states[0]
    dt = case.driver_steps * case.step
    # a linkage that lags needs a gentler return at speed
    rate = case.line_rate / (1.0 + abs(speed) * case.steer_lag * case.line_rate)
    state.steer_integral += state.off_path * abs(speed) * dt
    # curvature that closes offset and heading at the double rate `rate` per metre
    bend = -(rate * rate) * (
        state.off_path + case.line_reset * state.steer_integral
    ) - 2.0 * rate * sin(error - case.crab)
    if case.turn_curvature != 0.0 and case.turn_at <= state.path < case.length:
        bend += case.turn_curvature
    target = atan(case.wheelbase * bend) + case.crab_steer
    state.steer_target = min(max(target, -case.steer_most), case.steer_most)


@kernel
def linkage(cases: Records, states: Records, works: Records) -> None:
    """Steering linkage: the target is reached with a lag, the knuckles follow Ackermann."""
    case, state, work = cases[0], states[0], works[0]
    rate = (state.steer_target - state.steer) / case.steer_lag
    state.steer += rate * case.step
    bend = tan(state.steer) / case.wheelbase
    half = 0.5 * case.kingpins
    for joint, side in ((STEER_L, 1.0), (STEER_R, -1.0)):
        wanted = atan(case.wheelbase * bend / (1.0 - side * half * bend))
        work.torque[joint] += (
            case.steer_stiffness * (wanted - state.joint[joint])
            - case.steer_damping * work.rate[joint]
        )


@kernel
def is_braking(cases: Records, states: Records) -> bool:
    """Whether the driver brakes: from a place on, until the brakes are let go."""
    case, state = cases[0], states[0]
    if state.brake_step == 0.0:
        if state.path < case.brake_at:
            return False
        state.brake_step = state.step
    return bool((state.step - state.brake_step) * case.step < case.brake_time)


@kernel
def drive(cases: Records, states: Records, works: Records, clutched: bool) -> None:
    """Drive torque: PI on the mean speed of the rear wheels, limited, shared left and right.

    An open differential shares the torque; a locked one also ties the rear wheels, and an
    engaged front drive the two axles.
    """
    case, state, work = cases[0], states[0], works[0]
    torque = 0.0
    if clutched and case.hold_speed == 1.0 and case.pushed == 0.0:
        speed = 0.5 * (state.rate[SPIN + 2] + state.rate[SPIN + 3]) * case.radius[2]
        lack = case.speed - speed
        torque = case.drive_gain * (lack + case.drive_reset * state.drive_integral)
        if abs(torque) < case.drive_most:
            state.drive_integral += lack * case.step
        torque = min(max(torque, -case.drive_most), case.drive_most)
    state.drive_torque = torque
    work.torque[SPIN + 2] += 0.5 * torque
    work.torque[SPIN + 3] += 0.5 * torque
    if case.locked == 1.0:
        state.lock_twist += (state.rate[SPIN + 2] - state.rate[SPIN + 3]) * case.step
        slip = work.rate[SPIN + 2] - work.rate[SPIN + 3]
        tie = case.lock_stiffness * state.lock_twist + case.lock_damping * slip
        work.torque[SPIN + 2] -= tie
        work.torque[SPIN + 3] += tie
    if case.shaft == 1.0:
        tie_axles(cases, states, works)


@kernel
def tie_axles(cases: Records, states: Records, works: Records) -> None:
    """Front drive: a stiff shaft holds the axles' mean rim speeds together.

    Each axle's differential stays open; a wheel that spins takes its own axle's share alone.
    """
    case, state, work = cases[0], states[0], works[0]
    front, rear = 0.5 * case.radius[0], 0.5 * case.radius[2]
    went = front * (state.rate[SPIN] + state.rate[SPIN + 1])
    went -= rear * (state.rate[SPIN + 2] + state.rate[SPIN + 3])
    state.shaft_twist += went * case.step
    slip = front * (work.rate[SPIN] + work.rate[SPIN + 1])
    slip -= rear * (work.rate[SPIN + 2] + work.rate[SPIN + 3])
    tie = case.shaft_stiffness * state.shaft_twist + case.shaft_damping * slip
    work.torque[SPIN] -= front * tie
    work.torque[SPIN + 1] -= front * tie
    work.torque[SPIN + 2] += rear * tie
    work.torque[SPIN + 3] += rear * tie


@kernel
def push(cases: Records, states: Records, works: Records, along_x: float, along_y: float) -> None:
    """An ideal push at the rear axle's centre along the path's unit tangent: it holds the speed
    whatever the wheels do, and is no force of the ground."""
    case, state, work = cases[0], states[0], works[0]
    v = state.velocity
    lack = case.speed - (v[0] * along_x + v[1] * along_y)
    force = case.push_gain * (lack + case.drive_reset * state.drive_integral)
    state.drive_integral += lack * case.step
    left, right = work.place[WHEEL_RL], work.place[WHEEL_RR]
    add_force(
        works, CHASSIS, force * along_x, force * along_y, 0.0,
        0.5 * (left[0] + right[0]), 0.5 * (left[1] + right[1]), 0.5 * (left[2] + right[2]),
    )  # fmt: skip


@kernel
def brake(cases: Records, states: Records, works: Records, i: int, most: float) -> None:
    """Brake of wheel `i`: a stiff twist, slipping at `most` [N m]."""
    case, state, work = cases[0], states[0], works[0]
    if most <= 0.0:
        state.brake_twist[i] = 0.0
        return
    k = case.brake_stiffness[i]
    state.brake_twist[i] += state.rate[SPIN + i] * case.step
    torque = k * state.brake_twist[i] + case.brake_damping[i] * work.rate[SPIN + i]
    if abs(torque) > most:
        torque = most if torque > 0.0 else -most
        state.brake_twist[i] = torque / k
    work.torque[SPIN + i] -= torque


@kernel
def rolling_moment(cases: Records, states: Records, i: int) -> float:
    """[N m] of rolling resistance about the axle of wheel `i`, fading out near rest."""
    case, state = cases[0], states[0]
    most = case.rolling_resistance * state.load[i] * case.radius[i]
    rim_speed = state.rate[SPIN + i] * case.radius[i]
    # a damper near rest, no harder than the step resolves on the wheel's inertia
    resolved = 2.0 * most * case.radius[i] * case.step / case.spin_inertia[i]
    return float(-most * min(max(rim_speed / max(CREEP, resolved), -1.0), 1.0))
