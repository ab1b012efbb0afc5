"""The law of a tyre that envelops: alone, against the point law, brute force and a fine belt."""

from itertools import pairwise

import numpy as np
import pytest
from tyre.belt import Belt
from tyre.wheels import LAWS, over, over_item, plane, pressed, profile
from wheel_by_vectors import unit

from sidehill.kernels.height import surface
from sidehill.kernels.layout import Vector
from sidehill.machine.file import load_machine
from sidehill.rest import Rest

RADIUS, STIFFNESS, LOAD = 0.49, 220e3, 3000.0  # of bramble's rear wheel
SINK = LOAD / STIFFNESS
PRESSURE, BELT_WIDTH = 1.1e5, 0.25  # [Pa], [m] its file's pressure, 0.9 of its width
TAUT = PRESSURE * BELT_WIDTH * RADIUS  # [N] hoop tension of an inflated ring (textbook)


def test_the_wheel_is_the_machine_files() -> None:
    tyre = load_machine("bramble").rear_tyre
    assert (tyre.radius, tyre.stiffness) == (RADIUS, STIFFNESS)
    assert tyre.pressure == pytest.approx(PRESSURE)
    assert 0.9 * tyre.width == pytest.approx(BELT_WIDTH, abs=0.003)


def random_pose(rng: np.random.Generator) -> tuple[Vector, Vector]:
    """A wheel somewhere, leaning and turned, at up to 60 mm into level ground."""
    axle = unit(LEFT_ISH + rng.uniform(-0.25, 0.25, 3))
    return np.array([*rng.uniform(-0.4, 0.4, 2), RADIUS - rng.uniform(-0.005, 0.06)]), axle


LEFT_ISH = np.array([0.0, 1.0, 0.0])


def test_on_level_ground_it_is_the_point_law_with_something_near_or_not() -> None:
    rng = np.random.default_rng(3)
    near = {law: over("cleat", law, 5) for law in LAWS}
    bare = over(None, "point", 5)
    for flat in near.values():
        flat.ground.features[:, 1] = 0.8  # within reach, and under no rim
    for _ in range(200):
        centre, axle = random_pose(rng)
        centre[0] -= 0.4
        told = pressed(bare, centre, axle)
        for flat in near.values():
            for ours, theirs in zip(pressed(flat, centre, axle), told, strict=True):
                assert ours == pytest.approx(theirs, rel=1e-9, abs=1e-6)


def test_on_even_ground_however_steep_it_is_the_point_law() -> None:
    rng = np.random.default_rng(4)
    point, enveloping = (over(None, law, 5) for law in LAWS)
    loaded = 0
    for _ in range(200):
        ground = plane(*rng.uniform(-0.4, 0.4, 2))
        centre, axle = random_pose(rng)
        centre[2] = surface(centre[0], centre[1], ground)[0] + RADIUS + rng.uniform(-0.09, 0.05)
        told = pressed(point, centre, axle, ground)
        loaded += told[0][2] > 0.0
        for ours, theirs in zip(pressed(enveloping, centre, axle, ground), told, strict=True):
            assert ours == pytest.approx(theirs, rel=2e-5, abs=0.05)
    assert loaded > 60


def height_at_load(law: str, name: str, x: float, load: float = LOAD) -> float:
    """[m] of the hub over where it would be on level ground, at a load [N]."""
    flat = over(name, law)
    low, high = RADIUS - 0.3, RADIUS + 0.3
    for _ in range(40):
        middle = 0.5 * (low + high)
        force = pressed(flat, np.array([x, 0.0, middle]))[0][2]
        low, high = (middle, high) if force > load else (low, middle)
    return low - (RADIUS - load / STIFFNESS)


def test_over_a_long_bump_both_laws_agree_to_two_per_cent() -> None:
    """3 m long, 100 mm high: the hub's height at a load, all along it."""
    for x in np.linspace(-1.5, 0.0, 16):
        point, enveloping = (height_at_load(law, "long bump", x) for law in LAWS)
        assert enveloping == pytest.approx(point, abs=0.02 * 0.10)


def by_area(name: str, x: float, z: float) -> tuple[float, float]:
    """[N] ahead and up: the area of a thin disc's overlap, by very many columns."""
    s = np.linspace(-0.9999, 0.9999, 40001) * RADIUS
    rim = np.sqrt(RADIUS**2 - s**2)
    gap = np.maximum(profile(name, x + s) - (z - rim), 0.0)
    area = gap.sum() * (s[1] - s[0])
    if area == 0.0:
        return 0.0, 0.0
    depths = np.linspace(0.0, 0.4 * RADIUS, 4001)
    turn = np.arccos(1.0 - depths / RADIUS)
    segments = RADIUS**2 * (turn - np.sin(turn) * np.cos(turn))
    push = STIFFNESS * np.interp(area, segments, depths)
    middle = np.array([(gap * s).sum(), (gap * (rim - 0.5 * gap)).sum()])
    away = -middle / np.linalg.norm(middle)
    return push * away[0], -push * away[1]


# of a static load, at the worst: columns stand 24 mm apart, and an edge lies between two of them
WORST = {"bump": 0.005, "hole": 0.005, "long bump": 0.005, "kerb": 0.03, "log": 0.05}
MEAN = 0.003


@pytest.mark.parametrize("name", WORST)
def test_it_pushes_as_the_area_of_its_overlap_says(name: str) -> None:
    flat, apart = over(name, "enveloping"), []
    for x in np.linspace(-0.9, 0.3, 61):
        for sink in (0.005, 0.014, 0.04):
            s = np.linspace(-0.9999, 0.9999, 4001) * RADIUS
            z = float((profile(name, x + s) + np.sqrt(RADIUS**2 - s**2)).max()) - sink
            force = pressed(flat, np.array([x, 0.0, z]))[0]
            apart.append(np.abs(force[[0, 2]] - by_area(name, x, z)).max() / LOAD)
    assert max(apart) < WORST[name]
    assert np.mean(apart) < MEAN


def cleat_curve(law: str, places: Vector) -> Vector:
    """(n,) [m] by how much the ground seems higher, the axle held at its height."""
    flat = over("cleat", law)
    forces = [pressed(flat, np.array([x, 0.0, RADIUS - SINK]))[0][2] for x in places]
    return np.array(forces) / STIFFNESS - SINK


def belt_curve(tension: float, places: Vector) -> Vector:
    """The same of the fine belt."""
    belt = Belt(RADIUS, STIFFNESS, LOAD, tension)
    found = [belt.push(lambda s: profile("cleat", s), x, RADIUS - SINK) for x in places]
    return np.array([push.depth * push.up for push in found if push is not None]) - SINK


def test_over_a_cleat_at_constant_axle_height_the_two_laws_bracket_a_fine_belt() -> None:
    """A ridge 10 mm high and 50 mm long, very slowly: the form of SAE J2731. Point contact
    overstates it (published, vendor documentation); by how much, the fine belt tells."""
    places = np.linspace(-0.2, 0.0, 21)
    point, enveloping = (cleat_curve(law, places) for law in LAWS)
    slack, taut = (belt_curve(tension, places) for tension in (0.0, TAUT))
    for name, curve in zip(
        ("point", "belt", "spokes", "enveloping"), (point, taut, slack, enveloping), strict=True
    ):
        print(f"{name:10s} {1e3 * curve.max():5.2f} mm at most")
    assert point.max() == pytest.approx(0.010, abs=1e-5)
    assert enveloping == pytest.approx(slack, abs=2e-4)
    assert enveloping.max() + 0.002 < taut.max() < point.max() - 0.001


@pytest.mark.parametrize("name", ["bump", "kerb", "log", "hole"])
def test_the_force_has_no_steps(name: str) -> None:
    """A tenth of a millimetre further on it is hardly another."""
    flat = over(name, "enveloping")
    places = np.linspace(-0.8, 0.0, 8001)
    top = RADIUS + (0.03 if name != "hole" else -0.03)
    forces = [pressed(flat, np.array([x, 0.0, top]))[0] for x in places]
    largest = max(float(np.abs(b - a).max()) for a, b in pairwise(forces))
    assert largest < 60.0  # [N] a slope of 1:1 raises a tyre's load by 22 N in 0.1 mm


@pytest.mark.parametrize("law", LAWS)
def test_a_machine_rests_on_a_stone_by_either_law(law: str) -> None:
    """Compliant statics: the same kernels, without rates."""
    flat = over("bump", law, 5)
    flat.ground.features[0, 2] = 0.5  # under the left rear wheel, as long as two
    flat.ground.features[0, 6] = 0.4
    rest = Rest(flat)
    assert rest.move(np.radians(2.0))
    loads = rest.state["load"][0]
    assert loads.sum() == pytest.approx(rest.weight * np.cos(np.radians(2.0)), rel=0.02)
    assert (loads > 0.0).all()


def test_a_leaning_wheel_on_the_side_of_a_wide_bump_feels_what_the_point_law_says() -> None:
    """The bump bends far less than the rim, along and across: forces within 2 %."""
    rng = np.random.default_rng(8)
    wide = {"shape": "bump", "height": 0.1, "length": 5.0, "y": 0.0, "width": 6.0}
    flats = {law: over_item(wide, law, 5) for law in LAWS}
    ground = flats["point"].ground
    for _ in range(200):
        axle = unit(LEFT_ISH + rng.uniform(-0.2, 0.2, 3))
        x, y = rng.uniform(-2.3, 2.3), rng.uniform(-2.9, 2.9)
        high, gx, gy = surface(x, y, ground)
        lean = np.array([x, y, high + RADIUS / np.sqrt(1.0 + gx * gx + gy * gy) - 0.01])
        point, enveloping = (pressed(flat, lean, axle)[0] for flat in flats.values())
        size = max(float(np.linalg.norm(point)), LOAD)
        assert enveloping == pytest.approx(point, abs=0.02 * size)
