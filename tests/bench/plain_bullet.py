"""What people write first: PyBullet's own contacts and motors, one call after another.

No settings changed, no tyre, no driver: a yardstick for the cost of a step, not a result.
"""

import tempfile
from math import cos, degrees, hypot, sin
from pathlib import Path
from time import perf_counter

import numpy as np

from sidehill.case import Case
from sidehill.engines.silence import silence
from sidehill.machine.build import fit
from sidehill.machine.linkage import build_linkage
from sidehill.statics.tipping import GRAVITY
from sidehill.urdf import generate

with silence():
    import pybullet as pb

STEP = 1e-3  # [s]
LIFT = 0.02  # [m] dropped from


def load(case: Case) -> int:
    """The machine with its plain shapes, above the ground at the start of the course."""
    fitted = fit(case.machine, case.outfit)
    text = generate(fitted, build_linkage(fitted), collisions=True, visuals=False)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "machine.urdf"
        path.write_text(text, encoding="utf-8")
        with silence():
            return int(pb.loadURDF(str(path), basePosition=[0, 0, LIFT]))


def lay_ground(case: Case) -> None:
    """A level slab, gravity turned to the slope, the first bump as a sunken cylinder."""
    slope, bump = case.scenario.ground.slope, case.scenario.feature[0]
    pb.setGravity(0, -GRAVITY * sin(slope), -GRAVITY * cos(slope))
    slab = pb.createCollisionShape(pb.GEOM_BOX, halfExtents=[50, 50, 1])
    pb.createMultiBody(0, slab, basePosition=[0, 0, -1])
    half, rise = bump.extent / 2, bump.height
    radius = (half**2 + rise**2) / (2 * rise)
    log = pb.createCollisionShape(pb.GEOM_CYLINDER, radius=radius, height=bump.width)
    pb.createMultiBody(
        0, log,
        basePosition=[bump.at, case.machine.rear_tyre.track / 2, rise - radius],
        baseOrientation=pb.getQuaternionFromEuler([np.pi / 2, 0, 0]),
    )  # fmt: skip


def drive(case: Case, time: float) -> tuple[float, float, float]:
    """Seconds a step, way [m] and peak roll [deg] of a drive of `time` [s]."""
    with silence():
        client = pb.connect(pb.DIRECT)
    pb.setTimeStep(STEP)
    lay_ground(case)
    body = load(case)
    joints = {pb.getJointInfo(body, k)[12].decode(): k for k in range(pb.getNumJoints(body))}
    pb.setJointMotorControl2(body, joints["front_axle"], pb.VELOCITY_CONTROL, force=0)
    driven = [joints["wheel_rear_left"], joints["wheel_rear_right"]]
    for side in ("left", "right"):
        pb.setJointMotorControl2(body, joints[f"wheel_front_{side}"], pb.VELOCITY_CONTROL, force=0)
    rate = case.scenario.drive.speed / case.machine.rear_tyre.radius
    pb.resetBaseVelocity(body, [case.scenario.drive.speed, 0, 0])
    count, peak = round(time / STEP), 0.0
    start = perf_counter()
    for _ in range(count):
        pb.setJointMotorControlArray(
            body, driven, pb.VELOCITY_CONTROL, targetVelocities=[rate] * 2, forces=[2e4] * 2
        )
        pb.stepSimulation()
        place, turn = pb.getBasePositionAndOrientation(body)
        peak = max(peak, pb.getEulerFromQuaternion(turn)[0])
    spent = (perf_counter() - start) / count
    pb.disconnect(client)
    return spent, hypot(place[0], place[1]), degrees(peak)
