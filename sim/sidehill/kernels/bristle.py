"""The tangential force of a tyre: one bristle per wheel, up to the friction limit."""

from math import sqrt

from sidehill.kernels.jit import kernel
from sidehill.kernels.layout import SETTLE, Records

SHEAR_DAMPING = 0.5  # tangential over vertical damping
HELD = 1.5  # friction while settling: a machine is held at its start, however slippery


@kernel
def bristle(
    i: int, cases: Records, states: Records, load: float, went_long: float, went_side: float,
    v_long: float, v_side: float, spun: float, softness: float,
) -> tuple[float, float, float]:  # fmt: skip
    """Tangential force [N], forward and left, and the lateral deflection [m] of wheel `i`.

    The bristle follows the patch (`went_*`, [m/s] over the last step; `v_*` now, for its
    damper) and forgets it over the relaxation length as the tyre rolls; beyond the
    friction limit it slides at the limit. `softness` is for the lateral damper alone: a
    light wheel's spin would not bear more.
    """
    case, state = cases[0], states[0]
    dt, k = case.step, case.shear[i]
    damp = SHEAR_DAMPING * case.damping[i]
    fade = abs(spun) * case.radius[i] / case.relaxation  # [1/s]
    forget = 1.0 / (1.0 + 0.5 * fade * dt)
    keep = 1.0 - 0.5 * fade * dt
    s_long = (keep * state.bristle[i, 0] + went_long * dt) * forget
    s_side = (keep * state.bristle[i, 1] + went_side * dt) * forget
    grip = max(case.friction, HELD) if state.stage == SETTLE else case.friction
    most = grip * load
    stretch = k * sqrt(s_long * s_long + s_side * s_side)
    if stretch >= most:  # it slides: the bristle stays at the limit, its damper at rest
        s_long, s_side = s_long * most / stretch, s_side * most / stretch
        f_long, f_side = -k * s_long, -k * s_side
        state.slip[i] = 1.0
    else:
        f_long = -k * s_long - damp * (v_long - fade * s_long)
        f_side = -k * s_side - softness * damp * (v_side - fade * s_side)
        size = sqrt(f_long * f_long + f_side * f_side)
        state.slip[i] = stretch / most
        if size > most:
            f_long, f_side = f_long * most / size, f_side * most / size
    state.bristle[i, 0], state.bristle[i, 1] = s_long, s_side
    state.tangential[i, 0], state.tangential[i, 1] = f_long, f_side
    return f_long, f_side, s_side
