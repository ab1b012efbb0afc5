"""Designs: the grid's order, paired and repeatable draws, the blocks that indices need."""

import tracemalloc
from math import isclose, pi, sin, sqrt

import numpy as np
import pytest
from scipy.stats import sobol_indices

from sidehill.files.errors import InputError
from sidehill.study.axis import Axis
from sidehill.study.draw import Design, design, size
from sidehill.study.sample import Sample

SLOPE = Axis("slope_deg", "list", (4.0, 8.0, 12.0))
HEIGHT = Axis("height", "list", ("carry", "full"))
LOAD = Axis("load_kg", "normal", (200.0, 10.0))
SPEED = Axis("speed_m_s", "uniform", (1.0, 2.0))


def draws(found: Design) -> list[dict[str, object]]:
    return [found.draw(i) for i in range(found.n)]


def test_a_grid_is_the_product_with_the_last_field_fastest() -> None:
    found = draws(design((SLOPE, HEIGHT), Sample()))
    assert found == [
        {"slope_deg": slope, "height": height}
        for slope in (4.0, 8.0, 12.0)
        for height in ("carry", "full")
    ]


def test_a_grid_has_the_same_draws_of_a_distribution_at_every_place() -> None:
    found = draws(design((SLOPE, LOAD), Sample(n=5, seed=3)))
    assert len(found) == size((SLOPE, LOAD), Sample(n=5)) == 15
    loads = [row["load_kg"] for row in found]
    assert loads[:5] == loads[5:10] == loads[10:]
    assert len(set(loads[:5])) == 5


@pytest.mark.parametrize("method", ["latin", "sobol"])
def test_draws_follow_their_distributions(method: str) -> None:
    found = design((LOAD, SPEED, SLOPE), Sample(method=method, n=1024, seed=2))
    load, speed, slope = found.values(0, found.n)
    assert np.mean(load) == pytest.approx(200.0, abs=0.2)
    assert np.std(load) == pytest.approx(10.0, rel=0.02)
    # even: one draw in each of so many strips (Latin hypercube by definition, Sobol as a net)
    assert sorted((1024 * (speed - 1.0)).astype(int)) == list(range(1024))
    assert {value: int(np.sum(slope == value)) for value in (4.0, 8.0, 12.0)} == pytest.approx(
        dict.fromkeys((4.0, 8.0, 12.0), 1024 / 3), abs=1
    )


def test_the_same_seed_gives_the_same_draws_and_another_others() -> None:
    for method in ("grid", "latin", "sobol", "saltelli"):
        first, again, other = (
            design((LOAD, SPEED), Sample(method=method, n=16, seed=seed)).values(0, 16)[0]
            for seed in (4, 4, 5)
        )
        assert np.array_equal(first, again)
        assert not np.array_equal(first, other)


def test_saltelli_blocks() -> None:
    n = 8
    found = design((LOAD, SPEED), Sample(method="saltelli", n=n, seed=1))
    assert found.n == size((LOAD, SPEED), Sample(method="saltelli", n=n)) == n * 4
    (a, b, mixed_load, kept_load), (a2, b2, kept_speed, mixed_speed) = (
        column.reshape(4, n) for column in found.values(0, found.n)
    )
    assert np.array_equal(mixed_load, b) and np.array_equal(kept_load, a)
    assert np.array_equal(kept_speed, a2) and np.array_equal(mixed_speed, b2)


def test_indices_of_the_ishigami_function() -> None:
    """Analytic values: Ishigami and Homma 1990, in the form that Saltelli's books give."""
    a, b = 7.0, 0.1
    axes = [Axis(f"x{k}", "uniform", (-pi, pi)) for k in (1, 2, 3)]
    n = 4096
    found = design(axes, Sample(method="saltelli", n=n, seed=9))
    y = np.array([ishigami(**found.draw(i), a=a, b=b) for i in range(found.n)])
    blocks = y.reshape(5, n)
    got = sobol_indices(func={"f_A": blocks[0], "f_B": blocks[1], "f_AB": blocks[2:, None, :]}, n=n)
    v1, v2, v13 = (1 + b * pi**4 / 5) ** 2 / 2, a**2 / 8, b**2 * pi**8 * (1 / 18 - 1 / 50)
    total = v1 + v2 + v13
    assert got.first_order.ravel() == pytest.approx([v1 / total, v2 / total, 0.0], abs=0.02)
    assert got.total_order.ravel() == pytest.approx(
        [(v1 + v13) / total, v2 / total, v13 / total], abs=0.02
    )
    assert isclose(np.var(y[: 2 * n]), total, rel_tol=0.02)


def ishigami(x1: float, x2: float, x3: float, a: float, b: float) -> float:
    return sin(x1) + a * sin(x2) ** 2 + b * x3**4 * sin(x1)


def test_nothing_varied_is_one_draw() -> None:
    assert draws(design((), Sample())) == [{}]
    assert size((), Sample()) == 1


SCHEMES = [
    *[{"method": method, "n": 8192} for method in ("sobol", "latin", "saltelli", "shapley")],
    {"method": "grid", "n": 5000},
    {"method": "sobol", "n": 8, "replicates": 3},
    {"method": "latin", "n": 100, "replicates": 200},
    {"method": "sobol", "n": 16384, "correlation": (("load", "speed", 0.6),)},
]


@pytest.mark.parametrize("how", SCHEMES)
def test_a_draw_is_the_same_whatever_was_asked_before(how: dict[str, object]) -> None:
    """Forward, backward, by itself, in a piece across blocks, or as a part of all."""
    axes = [
        Axis("load_kg", "normal", (200.0, 10.0), field="load"),
        Axis("speed_m_s", "uniform", (1.0, 2.0), field="speed"),
        SLOPE,
    ]
    sample = Sample(seed=5, **how)  # type: ignore[arg-type]
    found = design(axes, sample)
    whole = np.array(found.values(0, found.n))
    numbers = np.random.default_rng(1).integers(0, found.n, 40)
    for i in (*numbers, 0, found.n - 1):
        one = design(axes, sample) if i % 5 == 0 else found
        assert list(one.draw(int(i)).values()) == whole[:, i].tolist()
    first, last = found.n // 3, min(found.n, found.n // 3 + 5001)
    assert np.array_equal(np.array(found.values(first, last)), whole[:, first:last])


@pytest.mark.parametrize("method", ["sobol", "saltelli", "shapley"])
def test_a_design_of_millions_is_not_held(method: str) -> None:
    axes = [Axis(f"x{k}", "uniform", (0.0, 1.0)) for k in range(4)]
    tracemalloc.start()
    found = design(axes, Sample(method=method, n=2**20, seed=2))
    for i in range(0, found.n, found.n // 7):
        found.draw(i)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    held = 8 * 4 * found.n  # bytes, were it all held: 34 MB to 200 MB; orders take 8 MB
    assert peak < held / 3


def test_what_cannot_be_held_is_refused() -> None:
    wide = [Axis(f"x{k}", "uniform", (0.0, sqrt(2.0))) for k in range(20)]
    with pytest.raises(InputError, match="make it several studies"):
        design(wide, Sample(method="latin", n=10_000_000))
