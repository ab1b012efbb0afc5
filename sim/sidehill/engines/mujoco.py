"""MuJoCo: the second engine, from the same URDF text and the same kernels."""

import mujoco as mj
import numpy as np

from sidehill.engines.engine import Engine
from sidehill.engines.mujoco_loop import step_address, step_mujoco
from sidehill.flat import Flat
from sidehill.kernels.kinematics import pull_generalised, push_generalised
from sidehill.kernels.layout import Records, Vector

_OFF = (
    mj.mjtDisableBit.mjDSBL_CONTACT,
    mj.mjtDisableBit.mjDSBL_GRAVITY,
    mj.mjtDisableBit.mjDSBL_EULERDAMP,
)


def compile_urdf(urdf: str) -> tuple[mj.MjModel, Vector]:
    """The URDF's model on a free joint, and the chassis com (3,) [m] in its link frame.

    The joint sits at that com: there a step of semi-implicit Euler keeps momentum, and the
    other engines integrate there too.
    """
    spec = mj.MjSpec.from_string(urdf)
    spec.compiler.fusestatic = False
    spec.compiler.balanceinertia = False
    chassis = spec.worldbody.first_body()
    com = chassis.ipos.copy()
    for child in chassis.bodies:
        child.pos -= com
    chassis.ipos = np.zeros(3)
    chassis.add_freejoint()
    return spec.compile(), com


class MujocoEngine(Engine):
    """One model and its data; semi-implicit Euler."""

    name = "mujoco"

    def __init__(self, flat: Flat) -> None:
        super().__init__(flat)
        self.model, self._com = compile_urdf(flat.bare_urdf)
        option = self.model.opt
        option.timestep = float(flat.case["step"][0])
        option.integrator = mj.mjtIntegrator.mjINT_EULER
        for bit in _OFF:
            option.disableflags |= bit
        self.data = mj.MjData(self.model)
        joints = [int(self.model.body(name).jntadr[0]) for name in flat.moving[1:]]
        self._step = step_address()
        self._matrix = np.zeros((3, 3))
        self._places = self.model.jnt_qposadr[joints]
        self._rates = self.model.jnt_dofadr[joints]

    def _load(self, state: Records) -> None:
        s, data = state[0], self.data
        count = len(self._places)
        rotation = np.zeros(9)
        data.qpos[3:7] = s["quaternion"][[3, 0, 1, 2]]
        mj.mju_quat2Mat(rotation, data.qpos[3:7])
        arm = rotation.reshape(3, 3) @ self._com
        data.qpos[:3] = s["position"] + arm
        data.qvel[:3] = s["velocity"] + np.cross(s["turning"], arm)
        data.qvel[3:6] = rotation.reshape(3, 3).T @ s["turning"]
        data.qpos[self._places] = s["joint"][:count]
        data.qvel[self._rates] = s["rate"][:count]

    def _run(self, state: Records, rows: Records, n: int) -> int:
        if self._step is None:
            return self._run_in_python(state, rows, n)
        flat, data = self.flat, self.data
        return int(
            step_mujoco(
                flat.case, flat.model, state, self.work, flat.ground, flat.points, rows, n,
                self._step, self.model._address, data._address, self._com,
                data.qfrc_applied, data.qpos, data.qvel, self._places, self._rates, self._matrix,
            )
        )  # fmt: skip

    def _run_in_python(self, state: Records, rows: Records, n: int) -> int:
        """The same steps through the module, where its C function cannot be found."""
        model, data = self.model, self.data
        qfrc, qpos, qvel = data.qfrc_applied, data.qpos, data.qvel
        for done in range(n):
            if not self._forces(state, rows):
                return done
            push_generalised(self.work, self._com, qfrc, self._rates)
            mj.mj_step(model, data)
            pull_generalised(state, self._com, qpos, qvel, self._places, self._rates, self._matrix)
        return n

    def close(self) -> None:
        """Nothing to let go of: the model lives and dies with the object."""
