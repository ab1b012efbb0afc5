"""Ground that gives way: how deep each patch is now, and how fast it sinks.

A patch gives way from the moment at which a loaded rear wheel stands on it, the middle half of
its length and all of its width; smoothly, over its own time.
"""

from sidehill.kernels.height import (
    COS,
    FLANK,
    HALF_LENGTH,
    HALF_WIDTH,
    HEIGHT,
    SHAPE,
    SIN,
    Ground,
    X,
    Y,
    profile,
    window,
)
from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import DRIVE, Records, Vector


@kernel
def depth(cases: Records, states: Records, n: int) -> tuple[float, float]:
    """[m] by which patch `n` has sunk, and [m/s] at which it sinks."""
    case, state = cases[0], states[0]
    if state.give_step[n] == 0.0:
        return 0.0, 0.0
    s = (state.step - state.give_step[n]) * case.step / case.give_time[n]
    if s >= 1.0:
        return float(case.give_depth[n]), 0.0
    rate = 6.0 * s * (1.0 - s) / case.give_time[n]
    return case.give_depth[n] * s * s * (3.0 - 2.0 * s), case.give_depth[n] * rate


@kernel
def is_stood_on(states: Records, row: Vector) -> bool:
    """Whether a loaded rear wheel stands on the middle of a patch."""
    state = states[0]
    for i in (2, 3):
        dx, dy = state.contact[i, 0] - row[X], state.contact[i, 1] - row[Y]
        u, v = row[COS] * dx + row[SIN] * dy, row[COS] * dy - row[SIN] * dx
        if state.load[i] > 0.0 and abs(u) < 0.5 * row[HALF_LENGTH] and abs(v) < row[HALF_WIDTH]:
            return True
    return False


@kernel
def give(cases: Records, states: Records, ground: Ground) -> None:
    """Set the present depth of every patch; one that a rear wheel comes to stand on begins."""
    case, state = cases[0], states[0]
    for n in range(int(case.gives)):
        row = ground.features[int(case.give_row[n])]
        if state.give_step[n] == 0.0 and state.stage == DRIVE and is_stood_on(states, row):
            state.give_step[n] = state.step
        row[HEIGHT] = -depth(cases, states, n)[0]


@kernel
def sinking(cases: Records, states: Records, ground: Ground, x: float, y: float) -> float:
    """[m/s] at which the ground at (x, y) [m] goes down."""
    total = 0.0
    for n in range(int(cases[0].gives)):
        row, rate = ground.features[int(cases[0].give_row[n])], depth(cases, states, n)[1]
        dx, dy = x - row[X], y - row[Y]
        u, v = row[COS] * dx + row[SIN] * dy, row[COS] * dy - row[SIN] * dx
        if rate > 0.0 and abs(u) < row[HALF_LENGTH] and abs(v) < row[HALF_WIDTH]:
            along, _ = profile(row[SHAPE], u, row[HALF_LENGTH], row[FLANK], rate)
            share, _ = window(v, row[HALF_WIDTH], row[FLANK])
            total += along * share
    return total
