"""A loader that moves: stiff servos that follow a schedule of arm angle over path length."""

from sidehill.jit import kernel
from sidehill.layout import CURL, LIFT, Records


@kernel
def arm_angle(cases: Records, path: float) -> float:
    """[rad] scheduled arm angle at a path length [m]; linear between points."""
    case = cases[0]
    last = int(case.lift_points) - 1
    if path <= case.lift_at[0]:
        return float(case.lift_angle[0])
    for i in range(last):
        a, b = case.lift_at[i], case.lift_at[i + 1]
        if path < b:
            share = (path - a) / (b - a)
            return float(case.lift_angle[i] + share * (case.lift_angle[i + 1] - case.lift_angle[i]))
    return float(case.lift_angle[last])


@kernel
def lift(cases: Records, states: Records, works: Records) -> None:
    """Servo torques of arm and bucket; the bucket stays level."""
    case, state, work = cases[0], states[0], works[0]
    wanted = arm_angle(cases, state.path)
    for joint, i in ((LIFT, 0), (CURL, 1)):
        work.torque[joint] += (
            case.lift_stiffness[i] * (wanted - state.joint[joint])
            - case.lift_damping[i] * work.rate[joint]
        )
