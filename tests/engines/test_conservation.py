"""A machine adrift without weight: what it loses of energy and momentum falls with the step."""

import numpy as np
import pytest
from population import MACHINES

from sidehill.dynamics.advance import accelerate, integrate
from sidehill.dynamics.gyrostat import gyrostat
from sidehill.dynamics.tree import TREE, rows_above
from sidehill.flat.model import flat_model
from sidehill.kernels.kinematics import forward
from sidehill.kernels.layout import SPIN, STATE, WORK, Records, Vector, blank
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import build_linkage
from sidehill.machine.outfit import Outfit

TIME = 0.5  # [s]
STEPS = (2e-4, 1e-4, 0.5e-4)  # [s]


class Drifting:
    """All bodies in motion, nothing acting on them."""

    def __init__(self, name: str) -> None:
        links = build_linkage(fit(load_machine(name), Outfit()), moving_loader=True)
        self.model, names = flat_model(links)
        self.state, self.work, self.tree = blank(STATE), blank(WORK), blank(TREE)
        self.gyrostat = gyrostat(self.model, links[0].com, names)
        self.above = rows_above(self.model)
        rng = np.random.default_rng(2)
        state = self.state[0]
        state["quaternion"][3] = 1.0
        state["velocity"], state["turning"] = rng.normal(0, 1, 3), rng.normal(0, 1, 3)
        state["joint"] = self.model["angle"][0]
        state["rate"] = rng.normal(0, 1, 9)
        state["rate"][SPIN : SPIN + 4] += 10.0

    def drift(self, step: float) -> None:
        for _ in range(round(TIME / step)):
            forward(self.model, self.state, self.work)
            accelerate(self.model, self.gyrostat, self.state, self.work, self.tree, self.above)
            integrate(self.model, self.gyrostat, self.state, self.work, self.tree, step)

    def motion(self) -> tuple[float, Vector, Vector]:
        """Energy [J], momentum [kg m/s] and angular momentum [kg m^2/s] about the origin,
        body by body."""
        forward(self.model, self.state, self.work)
        energy, linear, angular = 0.0, np.zeros(3), np.zeros(3)
        for b in range(int(self.model["bodies"][0])):
            m, R, w, v, at = self._body(b)
            inertia = R @ self.model["inertia"][0, b] @ R.T
            energy += 0.5 * (m * v @ v + w @ inertia @ w)
            linear += m * v
            angular += np.cross(at, m * v) + inertia @ w
        return energy, linear, angular

    def _body(self, b: int) -> tuple[float, Records, Vector, Vector, Vector]:
        work, model = self.work[0], self.model[0]
        R = work["rotation"][b]
        arm = R @ model["com"][b]
        w = work["turning"][b].copy()
        if SPIN < b <= SPIN + 4:
            w += self.state["rate"][0, b - 1] * work["axis"][b]
        return (
            model["mass"][b],
            R,
            w,
            work["velocity"][b] + np.cross(w, arm),
            work["place"][b] + arm,
        )


@pytest.mark.parametrize("name", MACHINES)
def test_losses_are_in_proportion_to_the_step(name: str) -> None:
    losses = []
    for step in STEPS:
        adrift = Drifting(name)
        before = adrift.motion()
        adrift.drift(step)
        after = adrift.motion()
        losses.append(
            [np.linalg.norm(b - a) / np.linalg.norm(a) for a, b in zip(before, after, strict=True)]
        )
    print(f"{name}: energy, momentum, angular momentum\n{np.array(losses)}")
    coarse, middle, fine = np.array(losses)
    assert coarse.max() < 1e-2
    # a first-order scheme: half the step, half the loss
    assert coarse / middle == pytest.approx(2.0, rel=0.1)
    assert middle / fine == pytest.approx(2.0, rel=0.1)
