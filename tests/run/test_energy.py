"""Closed form and conservation: free fall, the pin pendulum, a rocking machine; order of the step.

All engines step alike: rates first, then places with the new rates (semi-implicit Euler), which is
the leapfrog scheme with its rates half a step behind. Its own errors are known and asserted.
"""

from importlib.util import find_spec
from math import inf, pi

import numpy as np
import pytest
from population import MACHINES, RATED
from scipy.special import ellipk

from sidehill.case import Case, Settings
from sidehill.dynamics.advance import accelerate, integrate
from sidehill.dynamics.gyrostat import gyrostat
from sidehill.dynamics.tree import TREE, rows_above
from sidehill.engines import NAMES, open_engine
from sidehill.flat import Flat, flatten
from sidehill.kinematics import add_weight, clear_forces, forward, generalise
from sidehill.layout import (
    AXLE,
    CHASSIS,
    DRIVE,
    PIN,
    RUNNING,
    SETTLED,
    SPIN,
    STATE,
    STEER_L,
    STEER_R,
    WHEEL_FL,
    WORK,
    Vector,
    blank,
)
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.outcome import read
from sidehill.run import run
from sidehill.scenario.file import load_scenario
from sidehill.statics.tipping import GRAVITY
from sidehill.tyre import SECTION_SHARE

STEP = 1e-3  # [s]
CONSERVED = 1e-3  # of the largest kinetic plus spring energy, over 5 s at 1 kHz (issue)
ROLL_RATE = 0.12  # [rad/s] that a machine is set rocking with: every wheel stays down
ENGINES = tuple(name for name in NAMES if name == "compiled" or find_spec(name))


def level(name: str, settings: Settings | None = None) -> Flat:
    """A machine parked on level ground."""
    scenario = load_scenario("bank-plain").with_values(
        {"ground.slope": 0.0, "drive.speed": 0.0, "ground.friction": 1.2}
    )
    return flatten(Case(load_machine(name), scenario, Outfit(), settings or Settings()))


@pytest.mark.parametrize("engine", ENGINES)
def test_free_fall_to_the_integrators_own_error(engine: str) -> None:
    """z = -g t^2 / 2, and -g t dt / 2 more: the scheme falls as if let go half a step earlier."""
    flat = level("bramble")
    with open_engine(engine, flat) as opened:
        state, steps = opened.init(), 500
        state["position"][0, 2] += 20.0
        opened.advance(state, flat.rows(), 1)  # PyBullet takes a place in single precision
        start = state["position"][0].copy()
        opened.advance(state, flat.rows(), steps)
        values = state[0]

    def fallen(t: float) -> float:
        return -GRAVITY * t**2 / 2 - GRAVITY * t * STEP / 2

    moved = values["position"] - start
    assert moved[2] == pytest.approx(fallen((steps + 1) * STEP) - fallen(STEP), abs=1e-9)
    assert values["velocity"][2] == pytest.approx(-GRAVITY * (steps + 1) * STEP, abs=1e-9)
    assert np.abs(moved[:2]).max() < 1e-9
    assert np.abs(values["turning"]).max() < 1e-9


class Pendulum:
    """The front axle hanging on its pin, tyres off the ground, the chassis as heavy as a house."""

    def __init__(self, name: str, swung: float) -> None:
        flat = level(name)
        self.model = flat.model.copy()
        self.weights = flat.model.copy()  # nothing but the axle assembly weighs anything
        for b in range(int(self.model["bodies"][0])):
            if not self._hangs(b):
                self.weights["mass"][0, b] = 0.0
        self.model["mass"][0, CHASSIS], self.model["inertia"][0, CHASSIS] = 1e12, 1e12 * np.eye(3)
        self.state, self.work, self.tree = blank(STATE), blank(WORK), blank(TREE)
        self.gyrostat = gyrostat(self.model, flat.links[0].com, flat.moving)
        self.above = rows_above(self.model)
        self.state["quaternion"][0, 3] = 1.0
        self.state["joint"][0, PIN] = swung

    def _hangs(self, b: int) -> bool:
        while b not in (CHASSIS, AXLE):
            b = int(self.model["parent"][0, b])
        return b == AXLE

    def about_pin(self) -> tuple[float, float]:
        """Inertia about the pin [kg m^2] and weight moment [N m/rad], body by body."""
        forward(self.model, self.state, self.work)
        inertia = moment = 0.0
        for b in range(int(self.model["bodies"][0])):
            if self._hangs(b):
                R, m = self.work["rotation"][0, b], self.model["mass"][0, b]
                at = self.work["place"][0, b] + R @ self.model["com"][0, b]
                arm = (at - self.work["place"][0, AXLE])[1:]
                own = (R @ self.model["inertia"][0, b] @ R.T)[0, 0]
                inertia += own + m * arm @ arm
                moment -= GRAVITY * m * arm[1]
        return inertia, moment

    def step(self) -> None:
        forward(self.model, self.state, self.work)
        clear_forces(self.work)
        add_weight(self.weights, self.work, 0.0, 0.0, -GRAVITY)
        generalise(self.model, self.work)
        accelerate(self.model, self.gyrostat, self.state, self.work, self.tree, self.above)
        integrate(self.model, self.gyrostat, self.state, self.work, self.tree, STEP)

    def crossings(self, count: int) -> list[float]:
        """[s] at which it hangs straight down."""
        found, n = [], 0
        while len(found) < count:
            before = float(self.state["joint"][0, PIN])
            self.step()
            n += 1
            after = float(self.state["joint"][0, PIN])
            if before * after < 0.0:
                found.append((n - 1 + before / (before - after)) * STEP)
        return found


@pytest.mark.parametrize("name", MACHINES)
def test_pin_pendulum_to_the_integrators_own_error(name: str) -> None:
    """Period 4 K(sin(a / 2)) sqrt(I / mgl), exact for any swing a."""
    swung = 0.3
    pendulum = Pendulum(name, 0.0)
    inertia, moment = pendulum.about_pin()
    assert moment > 0.0  # its CG is below the pin
    pendulum.state["joint"][0, PIN] = swung
    quarter = float(ellipk(np.sin(swung / 2) ** 2)) * np.sqrt(inertia / moment)
    times = np.array(pendulum.crossings(6))
    # the scheme's phase: let go half a step earlier, and its period shorter by (w dt)^2 / 24
    expected = quarter * (2 * np.arange(6) + 1) - STEP / 2
    own_error = times[-1] * (pi / 2 / quarter * STEP) ** 2 / 24
    print(f"{name}: quarter period {quarter:.6f} s, off by {np.abs(times - expected).max():.1e} s")
    assert np.abs(times - expected).max() < 2 * own_error + 1e-7


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
        state["stage"], state["finish"], state["step"], state["row"] = DRIVE, RUNNING, 0, 0
        state["gauge_step"] = inf  # it is not to stall
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


@pytest.mark.parametrize("engine", ENGINES)
def test_energy_is_conserved_outright_where_the_rim_stays_on_its_patch(engine: str) -> None:
    """With tyres that hardly shift sideways nothing has to be taken off."""
    machine = Rocking("bramble", Settings(lateral_ratio=100.0), engine)
    kinetic, height, springs = machine.rock(5.0)
    largest, drift = (kinetic + springs).max(), np.ptp(kinetic + height + springs)
    print(f"{engine}: {drift / largest:.1e} of {largest:.0f} J lost or gained")
    assert machine.worked < 0.1 * CONSERVED * largest
    assert drift < CONSERVED * largest
    assert np.ptp(kinetic) > 0.5 * kinetic.max()  # it does rock


def peak_roll(name: str, course: str, speed: float, step: float) -> float:
    """[deg] of a crossing on a 7 deg slope, loaded to 60 % of the rating."""
    scenario = load_scenario(course).with_values(
        {"ground.slope": 0.12, "drive.speed": speed, "run.step": step, "run.rate": 50.0}
    )
    outfit = Outfit(bucket_load=f"{0.6 * RATED[name]} kg")
    track = run(Case(load_machine(name), scenario, outfit), "compiled")
    return read(track.state, step).peak_roll_deg


def test_order_of_convergence_of_peak_roll() -> None:
    """Fitted over a few crossings: the scheme is of second order, stone, stick and slip and the
    driver's 100 Hz are not, and the peaks come out between the first and the second."""
    steps = (2e-3, 1e-3, 0.5e-3, 0.25e-3)
    errors = []
    for name in MACHINES:
        for course, speed in (("bank-stone", 0.7), ("bank-rut", 1.4)):
            fine = peak_roll(name, course, speed, 0.0625e-3)
            errors.append([abs(peak_roll(name, course, speed, step) - fine) for step in steps])
    rms = np.sqrt((np.array(errors) ** 2).mean(axis=0))
    order = np.polyfit(np.log(steps), np.log(rms), 1)[0]
    told = ", ".join(
        f"{1e3 * step:g} ms {error:.1e}" for step, error in zip(steps, rms, strict=True)
    )
    print(f"peak roll: order {order:.2f}; rms error in deg at {told}")
    assert 0.9 < order < 2.2
    assert rms[1] < 0.01  # [deg] at 1 kHz
