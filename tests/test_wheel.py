"""One wheel in random states against the same law written as vectors and brute force."""

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from features import item
from wheel_by_vectors import Motion, unit, wheel_by_vectors

from sidehill.case import Case
from sidehill.film.render.relief import relief
from sidehill.flat import Flat, flatten
from sidehill.kernels.height import COLUMNS, Ground, surface
from sidehill.kernels.layout import DRIVE, SETTLE
from sidehill.kernels.tyre import wheel
from sidehill.machine.file import load_machine
from sidehill.scenario.file import load_scenario
from sidehill.scenario.shapes import SHAPES

CASES = 45
LEVEL = "level"


def flat_over(shape: str) -> Flat:
    """A case whose feature, if any, is in the middle of the ground."""
    items = [] if shape == LEVEL else [item(shape, height=0.1, length=1.2)]
    bank = load_scenario("bank-plain").with_values({"feature": items})
    flat = flatten(Case(load_machine("bramble"), bank))
    flat.ground.features[:, 1:3] = 0.0
    return flat


def rough() -> Ground:
    """Gentle waves, far longer than a rim."""
    rows, columns = np.mgrid[0:40, 0:40]
    relief = 0.02 * np.sin(0.5 * columns) + 0.03 * np.cos(0.4 * rows + 0.3 * columns)
    return Ground(np.zeros((0, COLUMNS)), relief, np.array([-4.0, -4.0, 5.0]))


def near(rng: np.random.Generator, size: float) -> np.ndarray:
    return rng.uniform(-size, size, 3)


@pytest.mark.parametrize("place", [LEVEL, *SHAPES, "rough"])
def test_a_wheel_feels_what_the_law_written_as_vectors_says(place: str) -> None:
    flat = flat_over(LEVEL if place == "rough" else place)
    ground = rough() if place == "rough" else flat.ground
    seen, rng = partial(surface, ground=ground), np.random.default_rng(5)

    def heights(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        out = np.empty(len(x))
        relief(x, y, ground, out)
        return out

    loaded = slid = 0
    for n in range(CASES):
        i, stage = n % 4, SETTLE if n % 5 == 0 else DRIVE
        case, state = flat.case.copy(), flat.start()
        case["friction"] = rng.uniform(0.1, 0.8)
        axle = unit(np.array([0.0, 1.0, 0.0]) + near(rng, 0.25))
        x, y = rng.uniform(-0.7, 0.7, 2)
        top = max(seen(x + dx, y)[0] for dx in np.linspace(-0.2, 0.2, 9))
        centre = np.array([x, y, top + case["radius"][0, i] - rng.uniform(-0.02, 0.06)])
        spin = rng.uniform(-6.0, 6.0)
        now = Motion(near(rng, 0.4), near(rng, 1.0), spin)
        if n % 2:  # it rolls, near enough: else most would slide
            ahead = unit(np.cross(axle, [0.0, 0.0, 1.0]))
            now = replace(now, velocity=near(rng, 0.05) + spin * case["radius"][0, i] * ahead)
        before = Motion(now.velocity + near(rng, 0.02), now.turning + near(rng, 0.1), spin + 0.1)
        bristle, softness = rng.uniform(-0.01, 0.01, 2), rng.uniform(0.5, 3.0)
        state["stage"], state["bristle"][0, i] = stage, bristle
        force, moment, foot = np.full(3, 7.0), np.full(3, 7.0), np.full(3, 7.0)
        wheel(
            i, case, state, ground, centre, axle, before.velocity, before.turning, before.spin,
            now.velocity, now.turning, now.spin, softness, force, moment, foot,
        )  # fmt: skip
        told = wheel_by_vectors(
            case[0], i, stage, bristle, seen, heights, centre, axle, before, now, softness
        )
        assert state["load"][0, i] == pytest.approx(told.load, rel=5e-6, abs=1e-2), n
        near_enough = 1e-3 + 2e-5 * told.load  # [N], [N m]
        assert force == pytest.approx(told.force, abs=near_enough), n
        assert moment == pytest.approx(told.moment, abs=near_enough), n
        assert foot == pytest.approx(told.foot, abs=5e-6), n
        assert state["bristle"][0, i] == pytest.approx(told.bristle, abs=1e-7), n
        assert state["slip"][0, i] == pytest.approx(told.slip, rel=1e-4), n
        loaded += told.load > 0.0
        slid += told.slip == 1.0
    assert loaded > CASES / 2 and 3 < slid < loaded - 10
