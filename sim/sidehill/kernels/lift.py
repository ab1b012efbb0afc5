"""A loader that moves: stiff servos that follow a schedule of arm angle over path length."""

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import ARM, BUCKET, CURL, LIFT, Records
from sidehill.kernels.schedule import scheduled


@kernel
def arm_angle(cases: Records, path: float) -> float:
    """[rad] scheduled arm angle at a path length [m]; linear between points."""
    case = cases[0]
    return scheduled(case.lift_at, case.lift_angle, int(case.lift_points), path)


@kernel
def weight_torque(works: Records, first: int) -> float:
    """[N m] that holds the weight of body `first` and all behind it at its joint.

    To be asked while the bodies carry nothing but their weight.
    """
    work = works[0]
    o, d = work.place[first], work.axis[first]
    total = 0.0
    for b in range(first, BUCKET + 1):
        F, M = work.force[b], work.moment[b]
        total += (
            d[0] * (M[0] - o[1] * F[2] + o[2] * F[1])
            + d[1] * (M[1] - o[2] * F[0] + o[0] * F[2])
            + d[2] * (M[2] - o[0] * F[1] + o[1] * F[0])
        )
    return -total


@kernel
def lift(cases: Records, states: Records, works: Records) -> None:
    """Servo torques of arm and bucket over what holds their weight; the bucket stays level."""
    case, state, work = cases[0], states[0], works[0]
    wanted = arm_angle(cases, state.path)
    for joint, i, body in ((LIFT, 0, ARM), (CURL, 1, BUCKET)):
        work.torque[joint] += (
            weight_torque(works, body)
            + case.lift_stiffness[i] * (wanted - state.joint[joint])
            - case.lift_damping[i] * work.rate[joint]
        )
