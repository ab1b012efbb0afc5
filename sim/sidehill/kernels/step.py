"""One step of any engine, short of the integration: state -> generalised forces.

An engine calls `forces` with its pose and rates in the state, applies what comes out,
and integrates. Gravity, tyres, stop, drive, brakes, steering, loader and the recorder are
all here, so that engines differ in nothing but their integration.
"""

from math import atan2, cos, inf, sin, sqrt, tan

from sidehill.kernels.driver import (
    brake,
    drive,
    is_braking,
    linkage,
    locate,
    push,
    rolling_moment,
    steer,
)
from sidehill.kernels.fall import fall_forces
from sidehill.kernels.give import give, sinking
from sidehill.kernels.height import Ground
from sidehill.kernels.hung import hang_still, sway
from sidehill.kernels.jit import kernel
from sidehill.kernels.kinematics import (
    add_force,
    add_weight,
    clear_forces,
    copy,
    forward,
    generalise,
)
from sidehill.kernels.layout import (
    BODIES,
    CHASSIS,
    DRIVE,
    FALLING,
    HOLD,
    LOWER,
    PIN,
    RUNNING,
    SETTLE,
    SPIN,
    TILT,
    WHEEL_FL,
    Records,
    Vector,
)
from sidehill.kernels.lift import lift
from sidehill.kernels.monitor import watch
from sidehill.kernels.stop import stop_torque
from sidehill.kernels.tyre import wheel


@kernel
def look_ahead(models: Records, states: Records, works: Records) -> float:
    """Joint rates as the dampers see them, into the scratch record; the share looked ahead.

    Semi-implicit Euler is the leapfrog scheme with its rates half a step behind the pose.
    Dampers fed with rates carried half a step on make the whole scheme second order. Not
    while settling: its heavy damping is stiff.
    """
    state, work = states[0], works[0]
    share = 0.5 if state.stage != SETTLE and state.step > 0.0 else 0.0
    for j in range(int(models[0].bodies) - 1):
        work.rate[j] = state.rate[j] + share * (state.rate[j] - state.rate_before[j])
    return share


@kernel
def remember(models: Records, states: Records, works: Records) -> None:
    """Keep this step's rates for the next one's look ahead."""
    state, work = states[0], works[0]
    for j in range(int(models[0].bodies) - 1):
        state.rate_before[j] = state.rate[j]
    for i in range(4):
        for k in range(3):
            state.hub_velocity_before[i, k] = work.velocity[WHEEL_FL + i, k]
            state.hub_turning_before[i, k] = work.turning[WHEEL_FL + i, k]


@kernel
def ground_forces(
    cases: Records,
    states: Records,
    works: Records,
    ground: Ground,
    softness: float,
    ahead: float,
) -> None:
    """Tyre forces and rolling resistance of the four wheels onto their bodies."""
    work, state = works[0], states[0]
    force, moment, v, w = work.scratch[0], work.scratch[1], work.scratch[2], work.scratch[3]
    for i in range(4):
        b = WHEEL_FL + i
        for k in range(3):
            now, then = work.velocity[b, k], state.hub_velocity_before[i, k]
            v[k] = now + ahead * (now - then)
            now, then = work.turning[b, k], state.hub_turning_before[i, k]
            w[k] = now + ahead * (now - then)
        if cases[0].gives > 0.0:  # dampers feel the motion over the ground
            v[2] += sinking(cases, states, ground, work.place[b, 0], work.place[b, 1])
        wheel(
            i, cases, states, ground, work.place[b], work.axis[b],
            work.velocity[b], work.turning[b], state.rate[SPIN + i],
            v, w, work.rate[SPIN + i], softness, force, moment, work.scratch[4],
        )  # fmt: skip
        add_force(
            works, b, force[0], force[1], force[2],
            work.place[b, 0], work.place[b, 1], work.place[b, 2],
        )  # fmt: skip
        against = rolling_moment(cases, states, i)
        for k in range(3):
            work.moment[b, k] += moment[k] + against * work.axis[b, k]


@kernel
def weigh(cases: Records, models: Records, states: Records, works: Records) -> None:
    """Gravity of the present slope and grade, and every body's weight under it."""
    case, work = cases[0], works[0]
    t, g = tan(states[0].slope), case.grade_tan
    pull = case.gravity / sqrt(1.0 + t * t + g * g)
    work.gravity[0], work.gravity[1], work.gravity[2] = (
        -pull * g,
        -pull * t * case.downhill,
        -pull,
    )
    add_weight(models, works)


@kernel
def pin_torque(cases: Records, states: Records, works: Records) -> None:
    """Axle stop, and the damper by which a tilt table lowers or holds the body."""
    case, state, work = cases[0], states[0], works[0]
    angle, rate = state.joint[PIN], work.rate[PIN]
    work.torque[PIN] += stop_torque(angle, rate, case.swing, case.stop_stiffness, case.stop_damping)
    if state.stage != TILT:
        return
    if case.tilt_mode == LOWER:
        work.torque[PIN] -= case.lower_damping * state.rate[PIN]
    elif case.tilt_mode == HOLD and state.slope < case.tilt_most:
        work.torque[PIN] -= case.hold_stiffness * angle + case.hold_damping * rate


@kernel
def actuate(cases: Records, states: Records, works: Records, heading: float) -> None:
    """What the driver and the drive train do in the present stage."""
    case, state, work = cases[0], states[0], works[0]
    driving = state.stage == DRIVE
    braking = driving and is_braking(cases, states)
    if driving:
        if state.step % case.driver_steps == 0.0:
            R, v = work.rotation[CHASSIS], state.velocity
            steer(cases, states, heading, v[0] * R[0, 0] + v[1] * R[1, 0] + v[2] * R[2, 0])
        clutched = case.speed > 0.0 and not (braking and case.declutch == 1.0)
        drive(cases, states, works, clutched)
        if clutched and case.pushed == 1.0:
            R = work.rotation[CHASSIS]
            way = atan2(R[1, 0], R[0, 0]) - heading
            push(cases, states, works, cos(way), sin(way))
    linkage(cases, states, works)
    if state.stage == FALLING:
        return
    for i in range(4):
        most = inf if state.stage == SETTLE and case.held == 1.0 else case.parking[i]
        if driving and case.speed > 0.0:  # else it is parked
            most = case.braking[i] if braking else 0.0
        brake(cases, states, works, i, most)


@kernel
def write_row(cases: Records, states: Records, rows: Records) -> None:
    """One row of the record."""
    case, state = cases[0], states[0]
    n, time = int(state.row), state.step * case.step
    if n > 0 and rows[n - 1].t_s == time:  # a fall begins where the drive ended
        n -= 1
    if n >= rows.shape[0]:
        return
    row = rows[n]
    row.t_s = time
    copy(state.position, row.position)
    copy(state.quaternion, row.quaternion)
    copy(state.joint, row.joint)
    row.roll_slope, row.pitch_slope = state.roll, state.pitch
    row.roll_horizon, row.slope = state.roll_horizon, state.slope
    row.steer, row.drive_torque = state.steer, state.drive_torque
    row.path, row.off_path = state.path, state.off_path
    copy(state.load, row.load)
    copy(state.slip, row.slip)
    for i in range(4):
        copy(state.tangential[i], row.tangential[i])
    copy(state.velocity, row.velocity)
    row.roll_rate = state.roll_rate
    copy(state.gap, row.gap)
    row.balance, row.lift_off = state.balance, state.lift_off
    state.row = n + 1.0


@kernel
def forces(
    cases: Records, models: Records, states: Records, works: Records, ground: Ground,
    points: Vector, rows: Records,
) -> bool:  # fmt: skip
    """Generalised forces of this step into the scratch record; False when the stage is over.

    points: (n, 5) what meets the ground in a fall; rows: the record, filled on.
    """
    case, state, work = cases[0], states[0], works[0]
    softness = 1.0
    if state.stage == SETTLE:
        s = min(state.step * case.step / case.ramp, 1.0)
        # fast while all wheels are loaded, and ever slower: the turning itself takes load off the
        # uphill wheels, which near lift-off they cannot spare
        left = (1.0 - s) * (1.0 - s)
        state.slope = (1.0 - left * left * (1.0 + 4.0 * s)) * case.slope
        softness = case.settle_damping
    forward(models, states, works)
    clear_forces(works)
    R = work.rotation[CHASSIS]
    heading = locate(cases, states, R[0, 0], R[1, 0])
    weigh(cases, models, states, works)
    if case.hung_mass > 0.0:
        sway(cases, states, works)
    if case.gives > 0.0:
        give(cases, states, ground)
    ahead = look_ahead(models, states, works)
    if models[0].bodies == BODIES:
        lift(cases, states, works)
    if state.stage == FALLING:
        fall_forces(cases, states, works, ground, points)
    else:
        ground_forces(cases, states, works, ground, softness, ahead)
    actuate(cases, states, works, heading)
    pin_torque(cases, states, works)
    watch(cases, models, states, works)
    if state.step % case.row_steps == 0.0 or state.finish != RUNNING:
        write_row(cases, states, rows)
    if state.finish != RUNNING:
        return False
    generalise(models, works)
    remember(models, states, works)
    state.step += 1.0
    return True


@kernel
def rest_forces(
    cases: Records, models: Records, states: Records, works: Records, ground: Ground
) -> None:
    """Generalised forces of a machine that stands still, without clock or recorder.

    A loader that moves on the way is held where it is to be at the state's place.
    """
    forward(models, states, works)
    clear_forces(works)
    weigh(cases, models, states, works)
    if cases[0].hung_mass > 0.0:
        hang_still(cases, works)
    ahead = look_ahead(models, states, works)
    if models[0].bodies == BODIES:
        lift(cases, states, works)
    ground_forces(cases, states, works, ground, 1.0, ahead)
    actuate(cases, states, works, 0.0)
    pin_torque(cases, states, works)
    generalise(models, works)
