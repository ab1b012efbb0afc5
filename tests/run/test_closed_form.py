"""Closed form: free fall, the pin pendulum; and the order of the step.

All engines step alike: rates first, then places with the new rates (semi-implicit Euler), which is
the leapfrog scheme with its rates half a step behind. Its own errors are known and asserted.
"""

from math import pi

import numpy as np
import pytest
from population import MACHINES, RATED
from run.level import STEP, level
from scipy.special import ellipk

from sidehill.case import Case
from sidehill.dynamics.advance import accelerate, integrate
from sidehill.dynamics.gyrostat import gyrostat
from sidehill.dynamics.tree import TREE, rows_above
from sidehill.engines import here, open_engine
from sidehill.kernels.kinematics import add_weight, clear_forces, forward, generalise
from sidehill.kernels.layout import (
    AXLE,
    CHASSIS,
    PIN,
    STATE,
    WORK,
    blank,
)
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import run
from sidehill.scenario.file import load_scenario
from sidehill.statics.tipping import GRAVITY


@pytest.mark.parametrize("engine", here())
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
        self.work["gravity"][0, 2] = -GRAVITY
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
        add_weight(self.weights, self.work)
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


def peak_roll(name: str, course: str, speed: float, step: float) -> float:
    """[deg] of a crossing on a 7 deg slope, loaded to 60 % of the rating."""
    scenario = load_scenario(course).with_values(
        {"ground.slope": 0.12, "drive.speed": speed, "run.step": step, "run.rate": 50.0}
    )
    outfit = Outfit(bucket_load=f"{0.6 * RATED[name]} kg")
    track = run(Case(load_machine(name), scenario, outfit), "compiled")
    return track.outcome.peak_roll_deg


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
