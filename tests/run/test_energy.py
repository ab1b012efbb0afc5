"""Conservation: a machine that rocks on its tyres keeps its energy, or what they take is known."""

from math import inf

import numpy as np
import pytest
from population import MACHINES
from run.level import STEP, level

from sidehill.case import Settings
from sidehill.engines import here, open_engine
from sidehill.kernels.kinematics import forward
from sidehill.kernels.layout import (
    DRIVE,
    NEVER,
    RUNNING,
    SETTLED,
    SPIN,
    STEER_L,
    STEER_R,
    WHEEL_FL,
    WORK,
    Vector,
    blank,
)
from sidehill.kernels.tyre import SECTION_SHARE
from sidehill.statics.tipping import GRAVITY

CONSERVED = 1e-3  # of the largest kinetic plus spring energy, over 5 s at 1 kHz
ROLL_RATE = 0.12  # [rad/s] that a machine is set rocking with: every wheel stays down


_DISSIPATES = (
    *("damping", "steer_damping", "stop_damping", "rolling_resistance", "parking"),
    *("drive_gain", "drive_most", "hold_speed", "steer_most"),
)


class Rocking:
    """A machine on its four wheels, set rocking, with every damper and driver taken out."""

    def __init__(self, name: str, settings: Settings, engine: str = "compiled") -> None:
        self.flat = level(name, settings)
        self.work, self.worked = blank(WORK), 0.0
        self.engine = open_engine(engine, self.flat)
        self.state, self.rows = self.engine.init(), self.flat.rows()
        while self.state["finish"][0] == RUNNING:
            self.engine.advance(self.state, self.rows, 2000)
        assert self.state["finish"][0] == SETTLED
        case, state = self.flat.case, self.state
        for field in _DISSIPATES:
            case[field] = 0.0
        case["relaxation"] = inf
        case["stand"] = NEVER  # it is not to halt
        state["stage"], state["finish"], state["step"], state["row"] = DRIVE, RUNNING, 0, 0
        state["gauge_step"] = inf  # it is not stuck
        state["turning"][0, 0] = ROLL_RATE

    def rock(self, seconds: float) -> tuple[Vector, Vector, Vector]:
        """Kinetic, potential and spring energy [J], each (n,) over the steps; the springs less
        what the tyre law has done of itself.

        Rates are half a step behind the places: the mean of two is that at the place between.
        """
        rows, worked = [], 0.0
        for _ in range(round(seconds / STEP)):
            kinetic, height, springs = self._kinetic(), self._height(), self._tyres()
            turning = self.work["turning"][0, WHEEL_FL : WHEEL_FL + 4].copy()
            self.engine.advance(self.state, self.rows, 1)
            assert self.state["finish"][0] == RUNNING
            assert self.state["load"].min() > 0.0
            assert self.state["slip"].max() < 1.0
            # the bristles of this place are stretched by the step that leaves it
            rows.append((kinetic, height, springs + self._bristles(), worked))
            worked += self._power(turning) * STEP
        kinetic, height, springs, work = np.array(rows).T
        self.worked = np.ptp(work)
        return (kinetic[:-1] + kinetic[1:]) / 2, height[:-1], (springs - work)[:-1]

    def _kinetic(self) -> float:
        model, state, work = self.flat.model[0], self.state[0], self.work[0]
        forward(self.flat.model, self.state, self.work)
        total = 0.0
        for b in range(int(model["bodies"])):
            R, turning = work["rotation"][b], work["turning"][b].copy()
            if SPIN < b <= SPIN + 4:
                turning += state["rate"][b - 1] * work["axis"][b]
            velocity = work["velocity"][b] + np.cross(turning, R @ model["com"][b])
            inertia = R @ model["inertia"][b] @ R.T
            total += 0.5 * (model["mass"][b] * velocity @ velocity + turning @ inertia @ turning)
        return float(total)

    def _height(self) -> float:
        """[J] of the weights; after `_kinetic`."""
        model, work = self.flat.model[0], self.work[0]
        moment = sum(
            model["mass"][b] * (work["place"][b] + work["rotation"][b] @ model["com"][b])[2]
            for b in range(int(model["bodies"]))
        )
        return float(GRAVITY * moment)

    def _tyres(self) -> float:
        """[J] pressed into the tyres; after `_kinetic`."""
        case, work = self.flat.case[0], self.work[0]
        count = int(case["discs"])
        across = SECTION_SHARE * ((np.arange(count) + 0.5) / count - 0.5)
        total = 0.0
        for i in range(4):
            axle, centre = work["axis"][WHEEL_FL + i], work["place"][WHEEL_FL + i]
            low = case["radius"][i] * np.sqrt(1.0 - axle[2] ** 2)
            depth = np.maximum(low - centre[2] - across * case["section"][i] * axle[2], 0.0)
            total += 0.5 * case["stiffness"][i] / count * depth @ depth
        knuckles = self.state["joint"][0, [STEER_L, STEER_R]]
        return float(total + 0.5 * case["steer_stiffness"] * knuckles @ knuckles)

    def _bristles(self) -> float:
        """[J] stretched into the bristles."""
        squared = (self.state["bristle"][0] ** 2).sum(axis=1)
        return float(0.5 * self.flat.case["shear"][0] @ squared)

    def _power(self, turning: Vector) -> float:
        """[W] of the load where it acts: on the ground beside the rim, which has moved sideways.

        The springs are stretched by the rim's own motion. The load acts beside it, by the bristle's
        deflection, and does work of its own there while the wheel leans.
        """
        state, work = self.state[0], self.work[0]
        total = 0.0
        for i in range(4):
            axle = work["axis"][WHEEL_FL + i]
            left = np.array([axle[0], axle[1], 0.0]) / np.hypot(axle[0], axle[1])
            arm = -state["bristle"][i, 1] * left
            total += np.cross(arm, [0.0, 0.0, state["load"][i]]) @ turning[i]
        return float(total)


@pytest.mark.parametrize("name", MACHINES)
def test_energy_of_a_rocking_machine_is_conserved(name: str) -> None:
    """Total energy, less the work that the tyre law does where its load acts beside the rim.

    That work comes back within a period: the law is not a spring there, and it is no drift.
    """
    machine = Rocking(name, Settings())
    kinetic, height, springs = machine.rock(5.0)
    largest, drift = (kinetic + springs).max(), np.ptp(kinetic + height + springs)
    print(
        f"{name}: {drift / largest:.1e} of {largest:.0f} J lost or gained; the load beside the "
        f"rim moves {machine.worked / largest:.1e} of it to and fro"
    )
    assert drift < CONSERVED * largest
    assert machine.worked < 5 * CONSERVED * largest


@pytest.mark.parametrize("engine", here())
def test_energy_is_conserved_outright_where_the_rim_stays_on_its_patch(engine: str) -> None:
    """With tyres that hardly shift sideways nothing has to be taken off."""
    machine = Rocking("bramble", Settings(lateral_ratio=100.0), engine)
    kinetic, height, springs = machine.rock(5.0)
    largest, drift = (kinetic + springs).max(), np.ptp(kinetic + height + springs)
    print(f"{engine}: {drift / largest:.1e} of {largest:.0f} J lost or gained")
    assert machine.worked < 0.1 * CONSERVED * largest
    assert drift < CONSERVED * largest
    assert np.ptp(kinetic) > 0.5 * kinetic.max()  # it does rock
