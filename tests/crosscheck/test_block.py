"""The rocking block's quarter period beyond the printed values."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sidehill.crosscheck.block import RockingBlock


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_quarter_period_by_integration(share):
    block = RockingBlock(half_width=0.35, half_height=0.8, shape=1.5)
    rate2 = 9.81 / (1.5 * np.hypot(0.35, 0.8))

    def fall(_, state):
        return state[1], -rate2 * np.sin(block.tip_angle - state[0])

    def upright(_, state):
        return state[0]

    upright.terminal = True
    released = share * block.tip_angle
    path = solve_ivp(fall, (0.0, 10.0), (released, 0.0), events=upright, rtol=1e-10, atol=1e-12)
    assert block.quarter_period(released) == pytest.approx(path.t_events[0][0], rel=1e-7)


def test_a_slender_block_follows_the_formula():
    gaps = []
    for half_width in (0.2, 0.1, 0.05):
        block = RockingBlock(half_width, 1.0, 2.0)
        half = block.tip_angle / 2
        gaps.append(block.quarter_period(half) / block.slender_quarter_period(half) - 1)
    assert gaps[0] == pytest.approx(4 * gaps[1], rel=0.1)  # an error of second order
    assert gaps[1] == pytest.approx(4 * gaps[2], rel=0.1)
