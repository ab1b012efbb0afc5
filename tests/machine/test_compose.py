"""Parts put together weigh and turn as the points that they are made of, summed one by one."""

import numpy as np
import pytest

from sidehill.machine.fitted import Part
from sidehill.machine.inertia import NOTHING, about, compose, compose_groups

RANDOM = np.random.default_rng(5)
ROUND_OFF = 1e-9  # kg m^2: sums of a few hundred doubles


def cloud(count: int = 40) -> tuple[list[float], list[np.ndarray]]:
    """Masses [kg] and places [m] of points."""
    masses = RANDOM.uniform(0.1, 20.0, count).tolist()
    return masses, list(RANDOM.normal(size=(count, 3)))


def by_points(masses: list[float], places: list[np.ndarray]) -> tuple[float, list[float], list]:
    """Mass, CG and inertia about it: sums over points, each of them written out (textbook)."""
    mass = sum(masses)
    cg = [sum(m * p[k] for m, p in zip(masses, places, strict=True)) / mass for k in range(3)]
    tensor = [[0.0] * 3 for _ in range(3)]
    for m, place in zip(masses, places, strict=True):
        x, y, z = (float(place[k]) - cg[k] for k in range(3))
        own = [[y * y + z * z, -x * y, -x * z], [-x * y, x * x + z * z, -y * z]]
        own.append([-x * z, -y * z, x * x + y * y])
        for i in range(3):
            for j in range(3):
                tensor[i][j] += m * own[i][j]
    return mass, cg, tensor


def test_lumps_of_several_names_are_each_the_sum_of_its_own_points() -> None:
    names, parts, points = [], [], {}
    for k in range(9):
        masses, places = cloud()
        mass, cg, tensor = by_points(masses, places)
        parts.append(Part(f"part {k}", "", mass, np.array(cg), np.array(tensor)))
        names.append("abc"[k % 3])
        mine = points.setdefault(names[-1], ([], []))
        mine[0].extend(masses)
        mine[1].extend(places)
    lumps = compose_groups(parts, names)
    assert list(lumps) == ["a", "b", "c"]
    for name, lump in lumps.items():
        mass, cg, tensor = by_points(*points[name])
        assert lump.mass == pytest.approx(mass)
        assert lump.cg == pytest.approx(cg)
        assert lump.inertia == pytest.approx(np.array(tensor), abs=ROUND_OFF)


def test_moving_many_at_once_is_moving_each() -> None:
    own, masses, arms = (
        RANDOM.normal(size=(7, 3, 3)),
        RANDOM.uniform(1, 9, 7),
        RANDOM.normal(size=(7, 3)),
    )
    together = about(own, masses, arms)
    for k in range(7):
        assert np.array_equal(together[k], about(own[k], float(masses[k]), arms[k]))


def test_nothing_weighs_nothing() -> None:
    assert compose([]) is NOTHING
    point = Part("point", "", 0.0, np.ones(3), np.zeros((3, 3)))
    lump = compose([point])
    assert lump.mass == 0.0
    assert np.isfinite(lump.cg).all()
    assert not lump.inertia.any()
