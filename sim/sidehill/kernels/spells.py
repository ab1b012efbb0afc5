"""Spells with a wheel up: how long, how high, and whether the body fell onto its axle stop.

A wheel is up while it carries nothing. Spells under `SHORTEST` do not count, and of those
begun while the machine is set going only what goes beyond that.
"""

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import DRIVE, MOST_SPELLS, PIN, Records

SHORTEST = 0.05  # [s] a shorter spell does not count
SETTING_OFF = 0.25  # [s] of driving, in which setting off itself may hop a wheel
REAR_LEFT, REAR_RIGHT = 2, 3


@kernel
def end_spell(cases: Records, states: Records, i: int) -> None:
    """Close the present spell of wheel `i`."""
    case, state = cases[0], states[0]
    if state.up_steps[i] * case.step >= SHORTEST:
        n = int(state.spells)
        if n < MOST_SPELLS:
            state.spell_log[n, 0] = i
            state.spell_log[n, 1] = state.step - state.up_steps[i]
            state.spell_log[n, 2] = state.step
            state.spell_log[n, 3] = state.spell_gap[i]
        state.spells += 1.0
    state.up_steps[i] = 0.0
    state.spell_gap[i] = 0.0


@kernel
def hangs(cases: Records, states: Records, rear: int) -> bool:
    """Whether the body has rolled away from its rear wheel `rear` onto the axle stop.

    A spell that counts, and the pin at the stop on the side the body rolled to: ground that
    twists a loaded axle onto its other stop is not this. Without any swing the pin is always
    at both; then the front wheel of that side is up as well.
    """
    case, state = cases[0], states[0]
    if state.up_steps[rear] * case.step < SHORTEST:
        return False
    if case.swing == 0.0:
        return bool(state.up_steps[rear - 2] * case.step >= SHORTEST)
    rolled = -state.joint[PIN] if rear == REAR_LEFT else state.joint[PIN]
    return bool(rolled >= case.swing)


@kernel
def follow_spells(cases: Records, states: Records) -> None:
    """Spells of this step, the clocks of all wheels down and of any wheel up, and hanging."""
    case, state = cases[0], states[0]
    setting_off = state.stage == DRIVE and state.step * case.step < SETTING_OFF
    any_up = False
    for i in range(4):
        if state.load[i] > 0.0:
            if state.up_steps[i] > 0.0:
                end_spell(cases, states, i)
            continue
        any_up = True
        if setting_off:
            continue
        state.up_steps[i] += 1.0
        state.spell_gap[i] = max(state.spell_gap[i], state.gap[i])
        if state.up_steps[i] * case.step >= SHORTEST:
            state.longest_up[i] = max(state.longest_up[i], state.up_steps[i])
            state.most_gap[i] = max(state.most_gap[i], state.spell_gap[i])
    if any_up:
        state.clear_steps = 0.0
        state.lean_steps += 1.0
    else:
        state.clear_steps += 1.0
        state.lean_steps = 0.0
    if hangs(cases, states, REAR_LEFT) or hangs(cases, states, REAR_RIGHT):
        state.hung = 1.0
