"""The tilt table: how fast it is turned, what happens at which slope, when it is done."""

from sidehill.kernels.ends import is_over
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import CUT, LOWER, OVERTURNED, PIN, TURNED, Records

RELEASE_TIME = 6.0  # [s] a held body may fall after its release


@kernel
def tilt(cases: Records, states: Records) -> None:
    """The table's slope: quick while all is well loaded, slow from shortly before lift-off on.

    While the body falls the ground must not turn away under it. When the body is lowered the
    table waits for it to reach its stop.
    """
    case, state = cases[0], states[0]
    front, rear = (0, 2) if case.downhill > 0.0 else (1, 3)
    on_stop = abs(state.joint[PIN]) >= case.swing
    lifted = state.event_slope[0] > 0.0
    if not lifted and state.load[rear] == 0.0:
        state.event_slope[0] = state.slope
    # without any swing the pin is at its stop from the start
    if state.event_slope[1] == 0.0 and on_stop and (lifted or case.swing > 0.0):
        state.event_slope[1] = state.slope
    if on_stop and state.load[front] > 0.0:
        state.event_slope[2] = state.slope
    margin = 0.0 if lifted else state.load[rear] / case.level_load[rear]
    rate = case.tilt_rate * (1.0 + 7.0 * min(max((margin - 0.1) / 0.3, 0.0), 1.0))
    if case.tilt_mode == LOWER and lifted and not on_stop:
        rate = 0.0
    state.slope = min(state.slope + rate * case.step, case.tilt_most)
    if state.slope < case.tilt_most:
        state.gauge_step = state.step


@kernel
def tilt_end(cases: Records, states: Records) -> float:
    """Why the table ends at this step, or RUNNING."""
    case, state = cases[0], states[0]
    if is_over(states):
        return OVERTURNED
    if (state.step - state.gauge_step) * case.step > RELEASE_TIME:
        return TURNED
    return CUT if state.step >= case.most_steps else 0.0
