"""Forward dynamics against MuJoCo's, on tumbling machines with forces on every body."""

import mujoco as mj
import numpy as np
import pytest
from population import MACHINES, RATED

from sidehill.dynamics.advance import accelerate
from sidehill.dynamics.gyrostat import gyrostat
from sidehill.dynamics.tree import TREE, rows_above
from sidehill.engines.mujoco import compile_urdf
from sidehill.flat.model import flat_model
from sidehill.kernels.kinematics import add_force, clear_forces, forward, generalise
from sidehill.kernels.layout import STATE, WORK, blank
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.linkage import build_linkage
from sidehill.machine.outfit import Outfit
from sidehill.urdf import generate

STATES = 50  # of each of three machines, loader fixed and moving: 300
RELATIVE = 1e-12  # of the largest acceleration of its kind


class Pair:
    """One machine in our tree and in MuJoCo, from the same links."""

    def __init__(self, name: str, moves: bool) -> None:
        outfit = Outfit(bucket_load=f"{RATED[name]} kg", bucket_height="full", rear_fill=0.75)
        fitted = fit(load_machine(name), outfit)
        links = build_linkage(fitted, moving_loader=moves)
        self.model, self.names = flat_model(links)
        self.state, self.work, self.tree = blank(STATE), blank(WORK), blank(TREE)
        self.above = rows_above(self.model)
        self.gyrostat = gyrostat(self.model, links[0].com, self.names)
        self.other, self.com = compile_urdf(generate(fitted, links, visuals=False))
        self.other.opt.disableflags |= mj.mjtDisableBit.mjDSBL_GRAVITY
        self.other.opt.disableflags |= mj.mjtDisableBit.mjDSBL_CONSTRAINT
        self.data = mj.MjData(self.other)
        joints = [self.other.body(name).jntadr[0] for name in self.names[1:]]
        self.places, self.rates = self.other.jnt_qposadr[joints], self.other.jnt_dofadr[joints]

    def tumble(self, rng: np.random.Generator) -> None:
        """Random pose, rates, forces and moments at every com, torques at every joint."""
        state, work, count = self.state[0], self.work[0], len(self.names)
        state["position"], state["velocity"] = rng.normal(0, 3, 3), rng.normal(0, 5, 3)
        quaternion = rng.normal(size=4)
        state["quaternion"] = quaternion / np.linalg.norm(quaternion)
        state["turning"] = rng.normal(0, 3, 3)
        state["joint"][: count - 1] = rng.uniform(-3, 3, count - 1)
        state["rate"][: count - 1] = rng.normal(0, 10, count - 1)
        forward(self.model, self.state, self.work)
        clear_forces(self.work)
        self.force, self.moment = rng.normal(0, 3e3, (count, 3)), rng.normal(0, 1e3, (count, 3))
        self.torque = rng.normal(0, 300, count - 1)
        self.coms = [
            work["place"][b] + work["rotation"][b] @ self.model["com"][0, b] for b in range(count)
        ]
        for b in range(count):
            add_force(self.work, b, *self.force[b], *self.coms[b])
            work["moment"][b] += self.moment[b]
        work["torque"][: count - 1] = self.torque
        generalise(self.model, self.work)

    def ours(self) -> np.ndarray:
        accelerate(self.model, self.gyrostat, self.state, self.work, self.tree, self.above)
        tree = self.tree[0]
        return np.concatenate([tree["right"][:6], tree["joint"][: len(self.names) - 1]])

    def theirs(self) -> np.ndarray:
        """The same, in our order and axes: angular, linear of the chassis link's com, joints."""
        s, data, count = self.state[0], self.data, len(self.names)
        rotation = self.work["rotation"][0, 0]
        arm = rotation @ self.com
        data.qpos[:3], data.qpos[3:7] = s["position"] + arm, s["quaternion"][[3, 0, 1, 2]]
        data.qvel[:3] = s["velocity"] + np.cross(s["turning"], arm)
        data.qvel[3:6] = rotation.T @ s["turning"]
        data.qpos[self.places] = s["joint"][: count - 1]
        data.qvel[self.rates] = s["rate"][: count - 1]
        self._push_all()
        mj.mj_forward(self.other, data)
        return np.concatenate([rotation @ data.qacc[3:6], data.qacc[:3], data.qacc[self.rates]])

    def _push_all(self) -> None:
        """Torques and forces into the applied ones; a force acts at our com of a body, which
        the links fixed to it share in."""
        other, data = self.other, self.data
        mj.mj_kinematics(other, data)
        mj.mj_comPos(other, data)
        data.qfrc_applied[:] = 0.0
        data.qfrc_applied[self.rates] = self.torque
        for name, force, moment, at in zip(
            self.names, self.force, self.moment, self.coms, strict=True
        ):
            pushed = np.zeros(other.nv)
            mj.mj_applyFT(other, data, force, moment, at, other.body(name).id, pushed)
            data.qfrc_applied[:] += pushed


def apart(a: np.ndarray, b: np.ndarray) -> float:
    """The largest difference, in proportion to the largest of its kind: angular, linear, joints."""
    kinds = (slice(0, 3), slice(3, 6), slice(6, None))
    return max(np.abs(a[k] - b[k]).max() / np.abs(b[k]).max() for k in kinds)


@pytest.mark.parametrize("moves", [False, True], ids=["loader fixed", "loader moving"])
@pytest.mark.parametrize("name", MACHINES)
def test_accelerations_are_those_of_mujoco(name: str, moves: bool) -> None:
    pair, rng = Pair(name, moves), np.random.default_rng(5)
    differences = []
    for _ in range(STATES):
        pair.tumble(rng)
        differences.append(apart(pair.ours(), pair.theirs()))
    middle = np.median(differences)
    print(f"{name}: at most {max(differences):.1e} of the acceleration, median {middle:.1e}")
    assert max(differences) < RELATIVE
