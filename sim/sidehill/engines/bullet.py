"""PyBullet: the reference engine. It integrates; every force comes from the kernels."""

import contextlib
import tempfile
from pathlib import Path

import numpy as np

from sidehill.engines.engine import Engine
from sidehill.engines.silence import silence
from sidehill.flat import Flat
from sidehill.kernels.kinematics import pull_inertial
from sidehill.kernels.layout import Records

with silence():  # it announces its build time on standard output
    import pybullet as pb

_TOP_RATE = 1e4  # [rad/s] the default joint speed limit is far too low


class BulletEngine(Engine):
    """One direct-mode client per engine object."""

    name = "pybullet"

    def __init__(self, flat: Flat) -> None:
        super().__init__(flat)
        with silence():
            self.client = pb.connect(pb.DIRECT)
        self._load_body(flat.bare_urdf)
        self._set_up(float(flat.case["step"][0]))

    def _load_body(self, urdf: str) -> None:
        client = self.client
        pb.setPhysicsEngineParameter(enableFileCaching=0, physicsClientId=client)
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "machine.urdf"
            path.write_text(urdf, encoding="utf-8")
            with silence():
                self.body = pb.loadURDF(
                    str(path), flags=pb.URDF_USE_INERTIA_FROM_FILE, physicsClientId=client
                )
        info = [
            pb.getJointInfo(self.body, i, physicsClientId=client)
            for i in range(pb.getNumJoints(self.body, physicsClientId=client))
        ]
        number = {entry[12].decode(): entry[0] for entry in info}
        self.joints = [number[name] for name in self.flat.moving[1:]]
        dynamics = pb.getDynamicsInfo(self.body, -1, physicsClientId=client)
        self._com = np.array(dynamics[3])  # of the chassis, in its link frame
        self._principal = np.array(dynamics[4])  # of its inertial frame, x y z w
        self._matrix = np.zeros((3, 3))

    def _set_up(self, step: float) -> None:
        client, body = self.client, self.body
        pb.setPhysicsEngineParameter(
            fixedTimeStep=step,
            numSolverIterations=10,
            solverResidualThreshold=1e-12,
            numSubSteps=0,
            physicsClientId=client,
        )
        pb.setGravity(0, 0, 0, physicsClientId=client)  # weight is one of our own forces
        for link in range(-1, pb.getNumJoints(body, physicsClientId=client)):
            pb.changeDynamics(
                body, link, linearDamping=0, angularDamping=0, jointDamping=0,
                maxJointVelocity=_TOP_RATE, physicsClientId=client,
                activationState=pb.ACTIVATION_STATE_DISABLE_SLEEPING,
            )  # fmt: skip
        pb.setJointMotorControlArray(
            body, self.joints, pb.VELOCITY_CONTROL, forces=[0.0] * len(self.joints),
            physicsClientId=client,
        )  # fmt: skip

    def _load(self, state: Records) -> None:
        s, client, body = state[0], self.client, self.body
        place, turn = pb.multiplyTransforms(
            s["position"].tolist(), s["quaternion"].tolist(),
            self._com.tolist(), self._principal.tolist(),
        )  # fmt: skip
        pb.resetBasePositionAndOrientation(body, place, turn, physicsClientId=client)
        arm = np.array(place) - s["position"]
        velocity = s["velocity"] + np.cross(s["turning"], arm)
        pb.resetBaseVelocity(body, velocity.tolist(), s["turning"].tolist(), physicsClientId=client)
        for k, joint in enumerate(self.joints):
            pb.resetJointState(body, joint, s["joint"][k], s["rate"][k], physicsClientId=client)

    def _run(self, state: Records, rows: Records, n: int) -> int:
        client, body, joints = self.client, self.body, self.joints
        work, count = self.work[0], len(joints)
        base_force, base_moment = work["base_force"], work["base_moment"]
        torque = work["joint_force"][:count]
        position = state[0]["position"]
        self._joint, self._rate = state[0]["joint"][:count], state[0]["rate"][:count]
        for done in range(n):
            if not self._forces(state, rows):
                return done
            force = base_force.tolist()
            pb.applyExternalForce(
                body, -1, force, position.tolist(), pb.WORLD_FRAME, physicsClientId=client
            )
            pb.applyExternalTorque(
                body, -1, base_moment.tolist(), pb.WORLD_FRAME, physicsClientId=client
            )
            pb.setJointMotorControlArray(
                body, joints, pb.TORQUE_CONTROL, forces=torque.tolist(), physicsClientId=client
            )
            pb.stepSimulation(physicsClientId=client)
            self._read(state)
        return n

    def _read(self, state: Records) -> None:
        client, body = self.client, self.body
        place, turn = pb.getBasePositionAndOrientation(body, physicsClientId=client)
        velocity, turning = pb.getBaseVelocity(body, physicsClientId=client)
        joints = pb.getJointStates(body, self.joints, physicsClientId=client)
        pull_inertial(
            state, place, turn, velocity, turning, self._com, self._principal, self._matrix
        )
        self._joint[:] = [joint[0] for joint in joints]
        self._rate[:] = [joint[1] for joint in joints]

    def close(self) -> None:
        """Disconnect; the engine cannot be used afterwards."""
        with contextlib.suppress(pb.error):
            pb.disconnect(physicsClientId=self.client)
