"""The tyre law alone: one wheel over flat ground and over features."""

from math import cos, sin

import numpy as np
import pytest
from features import item

from sidehill.case import Case, Settings
from sidehill.flat import Flat, flatten
from sidehill.kernels.height import COLUMNS, Ground, height, surface
from sidehill.kernels.layout import DRIVE, Records, Vector
from sidehill.kernels.tyre import wheel
from sidehill.machine.file import load_machine
from sidehill.scenario.file import load_scenario
from sidehill.scenario.shapes import SHAPES

REAR = 2  # rear left
STILL = np.zeros(3)
PLANE = Ground(np.zeros((0, COLUMNS)), np.zeros((0, 0)), np.zeros(3))
THIN = Settings(discs=1)
LEFT = np.array([0.0, 1.0, 0.0])


@pytest.fixture(scope="module")
def flat() -> Flat:
    return flatten(Case(load_machine("bramble"), load_scenario("bank-stone")))


def press(
    flat: Flat, state: Records, centre: Vector, axle: Vector = LEFT, moved: Vector = STILL,
    now: Vector = STILL, ground: Ground = PLANE,
) -> tuple[Vector, Vector]:  # fmt: skip
    """Force and moment on a wheel that moved over the last step and moves now."""
    force, moment = np.zeros(3), np.zeros(3)
    state["stage"] = DRIVE
    wheel(
        REAR, flat.case, state, ground, centre, axle, moved, STILL, 0.0, now, STILL, 0.0, 1.0,
        force, moment, np.zeros(3),
    )  # fmt: skip
    return force, moment


def at(flat: Flat, sink: float) -> Vector:
    return np.array([0.0, 0.0, flat.case["radius"][0, REAR] - sink])


def test_load_is_stiffness_times_sink_and_square_to_level_ground(flat: Flat) -> None:
    force, moment = press(flat, flat.start(), at(flat, 0.02))
    assert force == pytest.approx([0, 0, 0.02 * flat.case["stiffness"][0, REAR]])
    assert moment == pytest.approx([0, 0, 0], abs=1e-9)


def test_a_wheel_in_the_air_carries_nothing_and_forgets_its_bristle(flat: Flat) -> None:
    state = flat.start()
    state["bristle"][0, REAR] = 0.01
    force, moment = press(flat, state, at(flat, -0.001))
    assert not force.any() and not moment.any()
    assert not state["bristle"][0, REAR].any()
    assert state["load"][0, REAR] == 0.0


def test_the_damper_never_pulls(flat: Flat) -> None:
    force, _ = press(flat, flat.start(), at(flat, 0.001), now=np.array([0, 0, 10.0]))
    assert not force.any()


def test_a_tilted_wheel_stands_on_its_lower_edge(flat: Flat) -> None:
    """Tilted so that its left side is low, the load moves left of a thin disc's."""
    tilt = 0.05
    axle = np.array([0.0, cos(tilt), -sin(tilt)])
    thin = flatten(Case(load_machine("bramble"), load_scenario("bank-stone"), settings=THIN))
    _, wide_moment = press(flat, flat.start(), at(flat, 0.02), axle)
    _, thin_moment = press(thin, thin.start(), at(thin, 0.02), axle)
    _, mirrored = press(flat, flat.start(), at(flat, 0.02), axle * [1, 1, -1])
    assert wide_moment[0] > thin_moment[0] + 10.0  # [N m], to the right about x: upright
    assert mirrored[0] == pytest.approx(-wide_moment[0])


def test_side_force_is_a_spring_up_to_friction_and_acts_where_the_patch_was(flat: Flat) -> None:
    case = flat.case[0]
    sink, push = 0.02, 0.01  # [m]
    load = sink * case["stiffness"][REAR]
    state = flat.start()
    moved = np.array([0.0, push / case["step"], 0.0])
    force, moment = press(flat, state, at(flat, sink), moved=moved)
    assert force[1] == pytest.approx(-case["shear"][REAR] * push)
    # about the wheel's centre: side force times height, and load times what it left behind
    arm = case["radius"][REAR] - sink
    assert moment[0] == pytest.approx(arm * force[1] - push * load, rel=0.05)
    far, _ = press(flat, flat.start(), at(flat, sink), moved=100 * moved)
    assert far[1] == pytest.approx(-case["friction"] * load)
    assert state["slip"][0, REAR] == pytest.approx(-force[1] / (case["friction"] * load))


@pytest.mark.parametrize("shape", SHAPES)
def test_gradient_is_the_slope_of_the_height(shape: str) -> None:
    rows = over(shape, 0.1, 0.8).ground
    rng = np.random.default_rng(2)
    for x, y in rng.uniform(-0.6, 0.6, (200, 2)):
        if shape == "log" and abs(abs(x) - 0.1) < 0.01:
            continue  # its flank is upright
        _, gx, gy = surface(x, y, rows)
        e = 1e-6
        assert gx == pytest.approx(
            (height(x + e, y, rows) - height(x - e, y, rows)) / (2 * e), abs=1e-4
        )
        assert gy == pytest.approx(
            (height(x, y + e, rows) - height(x, y - e, rows)) / (2 * e), abs=1e-4
        )


def over(shape: str, size: float, length: float) -> Flat:
    """A case with one feature, which is moved to the middle of the ground."""
    bank = load_scenario("bank-plain").with_values({"feature": [item(shape, size, length)]})
    flat = flatten(Case(load_machine("bramble"), bank))
    flat.ground.features[:, 1:3] = 0.0
    return flat


@pytest.mark.parametrize(
    ("shape", "size", "length"),
    [*((name, 0.08, 0.6) for name in SHAPES), ("bump", 0.15, 0.4), ("hole", 0.1, 1.2)],
)
def test_a_slow_hard_wheel_follows_the_envelope_of_the_ground(
    shape: str, size: float, length: float
) -> None:
    """Centre height at no load against the exact rigid-wheel envelope: 1 mm."""
    flat = over(shape, size, length)
    radius = float(flat.case["radius"][0, REAR])
    u = np.linspace(-radius, radius, 20001)
    for x in np.linspace(-1.0, 1.0, 41):
        ground = np.array([height(x + k, 0.0, flat.ground) for k in u])
        envelope = float(np.max(ground + np.sqrt(np.maximum(radius**2 - u**2, 0.0))))
        low, high = envelope - 0.02, envelope + 0.02
        for _ in range(40):  # where the wheel just touches
            middle = 0.5 * (low + high)
            force, _ = press(flat, flat.start(), np.array([x, 0.0, middle]), ground=flat.ground)
            low, high = (middle, high) if force.any() else (low, middle)
        assert low == pytest.approx(envelope, abs=1e-3)


def test_a_wheel_does_not_enter_a_hole_narrower_than_its_chord() -> None:
    flat = over("hole", 0.19, 0.2)
    radius = float(flat.case["radius"][0, REAR])
    force, _ = press(flat, flat.start(), np.array([0.0, 0.0, radius - 0.02]), ground=flat.ground)
    assert force[2] > 0.0  # it hangs on the two edges
