"""Shapley effects through the design of studies, against closed forms."""

import numpy as np
import pytest
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.study.axis import Axis
from sidehill.study.draw import Design, design, size
from sidehill.study.sample import Sample
from sidehill.study.scheme import shapley_orders
from sidehill.sweep.shapley import shapley

Array = NDArray[np.float64]


def axes(n: int, low: float = -np.pi, high: float = np.pi) -> list[Axis]:
    return [Axis(f"x{k}", "uniform", (low, high)) for k in range(n)]


def plan(n: int, d: int, seed: int = 4) -> tuple[Design, Sample]:
    sample = Sample(method="shapley", n=n, seed=seed)
    return design(axes(d), sample), sample


def test_a_way_changes_one_field_after_the_other() -> None:
    found, sample = plan(8, 3)
    assert found.n == size(axes(3), sample) == 32
    blocks = np.stack(found.values(0, found.n)).reshape(3, 4, 8)
    orders = shapley_orders(3, sample)
    for way in range(8):
        for step in range(3):
            differs = blocks[:, step, way] != blocks[:, step + 1, way]
            assert differs.tolist() == [k == orders[way, step] for k in range(3)]


def test_twice_the_ways_begin_with_the_same() -> None:
    few, many = (np.stack(plan(n, 3)[0].values(0, 4 * n)).reshape(3, 4, n) for n in (8, 16))
    assert np.array_equal(few, many[:, :, :8])


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_ishigami_within_its_intervals(seed: int) -> None:
    """What x1 and x3 do together is shared out evenly (Shapley 1953; Owen 2014): with variances
    V1, V2 and V13 of the function (Ishigami and Homma 1990), V1 + V13 / 2, V2, V13 / 2."""
    found, sample = plan(2048, 3, seed)
    x = found.values(0, found.n)
    y = np.sin(x[0]) + 7.0 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])
    v1, v2 = (1.0 + 0.1 * np.pi**4 / 5.0) ** 2 / 2.0, 49.0 / 8.0
    v13 = 0.01 * np.pi**8 * (1.0 / 9.0 - 1.0 / 25.0) / 2.0
    wanted = np.array([v1 + v13 / 2.0, v2, v13 / 2.0]) / (v1 + v2 + v13)
    got = shapley(y, ["a", "b", "c"], shapley_orders(3, sample))
    assert sum(effect.share for effect in got.effects) == pytest.approx(1.0, abs=1e-12)
    for effect, share in zip(got.effects, wanted, strict=True):
        assert effect.share == pytest.approx(share, abs=0.05)
        assert effect.high - effect.low < 0.2
        assert effect.low - 0.02 <= share <= effect.high + 0.02


def test_a_sum_has_the_shares_of_its_parts() -> None:
    found, sample = plan(1024, 3)
    y = found.values(0, found.n)[0] + 2.0 * found.values(0, found.n)[1]
    got = shapley(y, ["a", "b", "c"], shapley_orders(3, sample))
    assert [effect.share for effect in got.effects] == pytest.approx([0.2, 0.8, 0.0], abs=0.02)


def test_ways_that_are_not_known_or_could_not_start_are_left_out_whole() -> None:
    found, sample = plan(256, 2)
    y = found.values(0, found.n)[0] + 2.0 * found.values(0, found.n)[1]
    started = np.ones(len(y), bool)
    y[5], started[300] = np.nan, False
    got = shapley(y, ["a", "b"], shapley_orders(2, sample), started)
    assert (got.unknown, got.apart, got.used, got.sets) == (1, 1, 128, 256)
    assert [effect.share for effect in got.effects] == pytest.approx([0.2, 0.8], abs=0.05)
    with pytest.raises(InputError, match="0 of 256 sets of draws are known"):
        shapley(np.full(len(y), np.nan), ["a", "b"], shapley_orders(2, sample))
