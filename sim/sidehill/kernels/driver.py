"""Steering, drive, brakes: what the driver and the drive train do, as force laws."""

from math import atan, atan2, cos, hypot, pi, sin, tan

from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import add_force
from sidehill.kernels.layout import CHASSIS, SPIN, STEER_L, STEER_R, WHEEL_RL, WHEEL_RR, Records
from sidehill.kernels.schedule import scheduled

QUARTER = 1.5  # [rad] of a circle
CREEP = 0.05  # [m/s] below it rolling resistance fades


@kernel
def is_past(cases: Records, number: int, x: float, y: float) -> bool:
    """Whether a place lies past the beginning of a piece of the course, square to the path."""
    case = cases[0]
    turn, dx = case.piece_heading[number], x - case.piece_place[number, 0]
    return bool(dx * cos(turn) + (y - case.piece_place[number, 1]) * sin(turn) >= 0.0)


@kernel
def follow_pieces(cases: Records, states: Records, heading: float) -> int:
    """The piece of the course that the rear axle centre is on: the one it was on, or beside it."""
    case, state = cases[0], states[0]
    x, y, number, last = state.position[0], state.position[1], int(state.piece), int(case.pieces)
    while number + 1 < last and is_past(cases, number + 1, x, y):
        number += 1
    while (
        number > 0
        and not is_past(cases, number, x, y)
        and abs(heading - case.piece_heading[number]) < QUARTER  # else it went round a turn
    ):
        number -= 1
    state.piece = float(number)
    return number


@kernel
def locate(cases: Records, states: Records, forward_x: float, forward_y: float) -> float:
    """Path length and offset of the rear axle centre into the state; heading error [rad].

    The course runs along +x and then in its pieces, each straight or on a circle; past its
    length it goes straight on. Offset and heading error are positive to the left.
    """
    case, state = cases[0], states[0]
    heading = atan2(forward_y, forward_x)
    number = follow_pieces(cases, states, heading)
    at, turn = case.piece_at[number], case.piece_heading[number]
    x = state.position[0] - case.piece_place[number, 0]
    y = state.position[1] - case.piece_place[number, 1]
    along, left = x * cos(turn) + y * sin(turn), y * cos(turn) - x * sin(turn)
    curvature, error = case.piece_curvature[number], heading - turn
    if curvature == 0.0:
        state.path, state.off_path = at + along, left
        return error if abs(error) <= pi else atan2(sin(error), cos(error))
    side, radius = (1.0, 1.0 / curvature) if curvature > 0.0 else (-1.0, -1.0 / curvature)
    dx, dy = along, side * left - radius
    turned = atan2(dx, -dy)
    if turned < -QUARTER:  # round more than half a circle
        turned += 2.0 * pi
    whole = (case.length - at) / radius
    if turned > whole:  # beyond the end of the course
        ex, ey = dx - radius * sin(whole), dy + radius * cos(whole)
        turned = whole
        state.path = case.length + ex * cos(whole) + ey * sin(whole)
        state.off_path = side * (ey * cos(whole) - ex * sin(whole))
    else:
        state.path = at + turned * radius
        state.off_path = side * (radius - hypot(dx, dy))
    error -= side * turned
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
    number = int(state.piece)
    if case.piece_at[number] <= state.path < case.length:
        bend += case.piece_curvature[number]
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
def wanted_speed(cases: Records, states: Records) -> float:
    """[m/s] that is to be held at this place of the path."""
    case = cases[0]
    if case.speeds == 0.0:
        return float(case.speed)
    return scheduled(case.speed_at, case.speed_there, int(case.speeds), states[0].path)


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
        lack = wanted_speed(cases, states) - speed
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
    lack = wanted_speed(cases, states) - (v[0] * along_x + v[1] * along_y)
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
