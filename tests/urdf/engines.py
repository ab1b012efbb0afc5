"""The same URDF text in other people's software: what each makes of its masses."""

from dataclasses import dataclass
from io import StringIO
from pathlib import Path

import mujoco
import numpy as np
import pybullet
import yourdfpy
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Lump:
    """Mass [kg] and CG (3,) [m] of everything, machine frame, joints as built."""

    mass: float
    cg: Array


def read(text: str) -> yourdfpy.URDF:
    """The parsed robot, without meshes."""
    return yourdfpy.URDF.load(StringIO(text), build_scene_graph=True, load_meshes=False)


def lump_of_yourdfpy(text: str, folder: Path) -> Lump:
    robot = read(text)
    mass, moment = 0.0, np.zeros(3)
    for link in robot.robot.links:
        place = robot.get_transform(link.name) @ link.inertial.origin
        mass += link.inertial.mass
        moment += link.inertial.mass * place[:3, 3]
    return Lump(mass, moment / mass)


def lump_of_pybullet(text: str, folder: Path) -> Lump:
    with Bullet(text, folder) as bullet:
        masses = [bullet.dynamics(k)[0] for k in range(-1, bullet.joints)]
        places = [bullet.base_cg()] + [bullet.link_cg(k) for k in range(bullet.joints)]
    return Lump(sum(masses), np.average(places, axis=0, weights=masses))


def lump_of_mujoco(text: str, folder: Path) -> Lump:
    model, data = mujoco_model(text)
    return Lump(float(model.body("chassis").subtreemass[0]), data.body("chassis").subtree_com)


ENGINES = {
    "yourdfpy": lump_of_yourdfpy,
    "pybullet": lump_of_pybullet,
    "mujoco": lump_of_mujoco,
}


class Bullet:
    """One robot in a PyBullet world of its own, chassis frame on the origin."""

    def __init__(self, text: str, folder: Path) -> None:
        path = folder / "machine.urdf"
        path.write_text(text)
        self.client = pybullet.connect(pybullet.DIRECT)
        self.body = pybullet.loadURDF(
            str(path), flags=pybullet.URDF_USE_INERTIA_FROM_FILE, physicsClientId=self.client
        )
        self.joints = pybullet.getNumJoints(self.body, physicsClientId=self.client)

    def __enter__(self) -> "Bullet":
        return self

    def __exit__(self, *_: object) -> None:
        pybullet.disconnect(self.client)

    def dynamics(self, link: int) -> tuple:
        return pybullet.getDynamicsInfo(self.body, link, physicsClientId=self.client)

    def base_cg(self) -> Array:
        """(3,) [m] PyBullet puts the base's CG at the place it was loaded at plus its offset."""
        return np.array(pybullet.getBasePositionAndOrientation(self.body, self.client)[0])

    def link_cg(self, link: int) -> Array:
        state = pybullet.getLinkState(self.body, link, physicsClientId=self.client)
        return np.array(state[0])

    def moving(self) -> list[str]:
        """Names of the joints that move, in PyBullet's order."""
        infos = [pybullet.getJointInfo(self.body, k, self.client) for k in range(self.joints)]
        return [info[1].decode() for info in infos if info[2] != pybullet.JOINT_FIXED]

    def set_joints(self, angles: dict[str, float]) -> None:
        for k in range(self.joints):
            name = pybullet.getJointInfo(self.body, k, self.client)[1].decode()
            if name in angles:
                pybullet.resetJointState(self.body, k, angles[name], physicsClientId=self.client)

    def mass_matrix(self, angles: dict[str, float]) -> Array:
        """Base rows first: angular, then linear, at the base's CG in its principal axes."""
        self.set_joints(angles)
        row = [angles[name] for name in self.moving()]
        return np.array(pybullet.calculateMassMatrix(self.body, row, physicsClientId=self.client))


def mujoco_model(text: str) -> tuple[mujoco.MjModel, mujoco.MjData]:
    """The robot floating in MuJoCo, every link kept apart and every inertia as written."""
    spec = mujoco.MjSpec.from_string(text)
    spec.compiler.fusestatic = False
    spec.compiler.balanceinertia = False
    spec.body("chassis").add_freejoint()
    model = spec.compile()
    data = mujoco.MjData(model)
    mujoco.mj_forward(model, data)
    return model, data


def mujoco_mass_matrix(text: str, angles: dict[str, float]) -> Array:
    """Base rows first: linear, then angular, at the chassis origin; then joints as in `angles`."""
    model, data = mujoco_model(text)
    for name, angle in angles.items():
        data.qpos[model.joint(name).qposadr[0]] = angle
    mujoco.mj_forward(model, data)
    full = np.zeros((model.nv, model.nv))
    mujoco.mj_fullM(model, data, full)
    rows = [*range(6), *(model.joint(name).dofadr[0] for name in angles)]
    return full[np.ix_(rows, rows)]


def base_change(cg: Array, frame: Rotation, joints: int) -> Array:
    """What takes PyBullet's base velocity to MuJoCo's, with the machine level on the origin."""
    change = np.eye(6 + joints)
    turn, x = frame.as_matrix(), cg
    cross = np.array([[0.0, -x[2], x[1]], [x[2], 0.0, -x[0]], [-x[1], x[0], 0.0]])
    change[:6, :6] = np.block([[cross @ turn, turn], [turn, np.zeros((3, 3))]])
    return change
