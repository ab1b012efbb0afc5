"""Sobol indices through the code path of studies: the Ishigami function, unknown draws."""

import numpy as np
import pytest
from numpy.typing import NDArray

from sidehill.files.errors import InputError
from sidehill.study.axis import Axis
from sidehill.study.draw import design
from sidehill.study.sample import Sample
from sidehill.sweep.sensitivity import Sensitivity, sensitivity

A, B = 7.0, 0.1
AXES = tuple(Axis(f"x{k}", "uniform", (-np.pi, np.pi)) for k in (1, 2, 3))
NAMES = [axis.name for axis in AXES]


def ishigami(x: list[NDArray[np.float64]]) -> NDArray[np.float64]:
    """Ishigami and Homma 1990 (Proc. ISUMA 90, 398-403), a = 7, b = 0.1."""
    return np.asarray(np.sin(x[0]) + A * np.sin(x[1]) ** 2 + B * x[2] ** 4 * np.sin(x[0]))


def drawn(n: int, seed: int = 3) -> NDArray[np.float64]:
    found = design(AXES, Sample(method="saltelli", n=n, seed=seed))
    return ishigami(list(found.values(0, found.n)))


def analytic() -> tuple[list[float], list[float]]:
    """First and total order: variances of the conditional means, integrated by hand.

    E[x^4] = pi^4 / 5 and E[x^8] = pi^8 / 9 on (-pi, pi), so that V1 = (1 + b pi^4 / 5)^2 / 2,
    V2 = a^2 / 8, V13 = b^2 pi^8 (1/9 - 1/25) / 2, all else nothing.
    """
    v1 = (1.0 + B * np.pi**4 / 5.0) ** 2 / 2.0
    v2 = A**2 / 8.0
    v13 = B**2 * np.pi**8 * (1.0 / 9.0 - 1.0 / 25.0) / 2.0
    whole = v1 + v2 + v13
    return [v1 / whole, v2 / whole, 0.0], [(v1 + v13) / whole, v2 / whole, v13 / whole]


def test_analytic_values_are_the_published_ones() -> None:
    """As widely quoted of Ishigami and Homma 1990: values from memory."""
    first, total = analytic()
    assert first == pytest.approx([0.3139, 0.4424, 0.0], abs=5e-5)
    assert total == pytest.approx([0.5576, 0.4424, 0.2437], abs=5e-5)


@pytest.mark.parametrize("seed", [1, 2, 3, 4, 5])
def test_ishigami_within_its_own_intervals(seed: int) -> None:
    found = sensitivity(drawn(1024, seed), NAMES)
    first, total = analytic()
    for k, index in enumerate(found.indices):
        assert index.first_low <= first[k] <= index.first_high
        assert index.total_low <= total[k] <= index.total_high
        # and the intervals say something: their half-width is a few times the expected error
        assert index.first_high - index.first_low < 0.15
        assert index.total_high - index.total_low < 0.20
        assert index.is_told


def test_intervals_shrink_with_draws() -> None:
    """By the square root of the number of draws, about."""
    few, many = (sensitivity(drawn(n), NAMES).indices[0] for n in (256, 4096))
    ratio = (few.total_high - few.total_low) / (many.total_high - many.total_low)
    assert 2.5 < ratio < 6.0  # 4 expected


def test_one_field_alone_has_all_of_it() -> None:
    found = design(AXES, Sample(method="saltelli", n=256, seed=1))
    indices = sensitivity(np.asarray(found.values(0, found.n)[1]), NAMES).indices
    assert [index.first for index in indices] == pytest.approx([0.0, 1.0, 0.0], abs=0.01)
    assert [index.total for index in indices] == pytest.approx([0.0, 1.0, 0.0], abs=0.01)


def test_same_bytes_every_time() -> None:
    values = drawn(64)
    np.random.seed(1)
    one = sensitivity(values, NAMES)
    np.random.seed(2)
    assert sensitivity(values, NAMES) == one


def test_what_is_not_known_is_left_out_whole_and_counted() -> None:
    values = drawn(256)
    broken = values.copy()
    broken[[0, 256 + 0, 3 * 256 + 7]] = np.nan  # two of one set, one of another
    found = sensitivity(broken, NAMES)
    assert (found.unknown, found.sets, found.used) == (2, 256, 128)
    kept = np.delete(values.reshape(5, 256), [0, 7], axis=1)[:, :128]
    expected: Sensitivity = sensitivity(kept.reshape(-1), NAMES)
    assert found.indices == expected.indices  # nothing of the broken sets is in it


@pytest.mark.parametrize(
    ("values", "said"),
    [
        (np.full(5 * 64, np.nan), "0 of 64 sets of draws are known"),
        (np.ones(5 * 64), "the same in every draw"),
    ],
)
def test_nothing_to_tell(values: NDArray[np.float64], said: str) -> None:
    with pytest.raises(InputError, match=said):
        sensitivity(values, NAMES)


def test_a_rare_event_is_not_told() -> None:
    values = np.zeros(5 * 64)
    values[[3, 9, 64 + 5]] = 1.0
    with pytest.raises(InputError, match="3 of 128 draws differ from the rest"):
        sensitivity(values, NAMES)


def test_an_interval_wider_than_all_there_is_tells_nothing() -> None:
    heavy = np.exp(5.0 * np.random.default_rng(5).normal(size=5 * 64))  # a few draws are all of it
    assert not all(index.is_told for index in sensitivity(heavy, NAMES).indices)


def test_one_field_needs_no_indices() -> None:
    with pytest.raises(InputError, match="one alone is behind all of it"):
        sensitivity(np.arange(3.0 * 64), ["a"])
