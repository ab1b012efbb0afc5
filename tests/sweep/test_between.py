"""Components of variance, by made-up effects and by brute force; one study of rough ground."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import sidehill as sh


def crossed(values: np.ndarray, seed: int = 0) -> pd.DataFrame:
    """A table with a row for each level and draw, in any order."""
    levels, draws = values.shape
    rows = [
        {
            "option": "a", "draw": k * draws + i, "ground.seed": k, "ground.slope_deg": float(i),
            "stability": "planted", "progress": "across", "met": True, "problem": None,
            "peak_roll_deg": values[k, i],
        }
        for k in range(levels)
        for i in range(draws)
    ]  # fmt: skip
    return pd.DataFrame(rows).sample(frac=1.0, random_state=seed)


def test_effects_that_were_put_in_come_out() -> None:
    random = np.random.default_rng(3)
    levels, draws = 2.0 * random.standard_normal(400), 3.0 * random.standard_normal(500)
    rest = 0.5 * random.standard_normal((400, 500))
    found = sh.between(crossed(levels[:, None] + draws + rest), "peak_roll_deg", "ground.seed")
    assert found.of_levels == pytest.approx(levels.var(ddof=1), rel=0.01)
    assert found.of_draws == pytest.approx(draws.var(ddof=1), rel=0.01)
    assert found.together == pytest.approx(0.25, rel=0.02)
    assert found.share == pytest.approx(4.25 / 13.25, rel=0.1)


def test_one_effect_alone_has_all_of_it() -> None:
    by_level = np.repeat([[1.0], [2.0], [4.0]], 5, axis=1)
    found = sh.between(crossed(by_level), "peak_roll_deg", "ground.seed")
    assert (found.share, found.of_draws, found.together) == (1.0, 0.0, 0.0)
    assert (found.low, found.high) == (1.0, 4.0)
    other = sh.between(crossed(by_level.T), "peak_roll_deg", "ground.seed")
    assert (other.share, other.of_levels) == (0.0, 0.0)


def test_what_is_not_known_somewhere_is_left_out_and_counted() -> None:
    values = np.arange(20.0).reshape(4, 5) ** 1.5
    values[2, 3] = np.nan
    found = sh.between(crossed(values), "peak_roll_deg", "ground.seed")
    kept = sh.between(crossed(np.delete(values, 3, axis=1)), "peak_roll_deg", "ground.seed")
    assert (found.draws, found.unknown, kept.unknown) == (4, 1, 0)
    assert found.of_levels == pytest.approx(kept.of_levels)


def test_what_is_not_crossed_is_refused() -> None:
    table = crossed(np.arange(16.0).reshape(4, 4))
    with pytest.raises(sh.InputError, match="not crossed with the draws"):
        sh.between(table.iloc[1:], "peak_roll_deg", "ground.seed")
    with pytest.raises(sh.InputError, match="a column of the table"):
        sh.between(table, "peak_roll_deg", "ground.sead")
    with pytest.raises(sh.InputError, match="2 levels, known at all of them for 4 draws"):
        sh.between(table[table["ground.seed"] < 2], "peak_roll_deg", "ground.seed")


def test_seeds_of_rough_ground(tmp_path: Path) -> None:
    bank = sh.load_scenario("bank-rough", **{"course.length": 6.0, "run.step": 0.002})
    study = sh.make_study(
        "bramble", bank,
        vary={"ground.seed": [1, 2, 3], "ground.slope": {"low": "8 deg", "high": "14 deg"}},
        sample={"method": "grid", "n": 3},
    )  # fmt: skip
    results = sh.run_study(study, tmp_path / "out", engine="compiled", workers=1)
    found = sh.between(results.to_pandas(), "peak_roll_horizon_deg", "ground.seed")
    assert (found.levels, found.draws, found.unknown) == (3, 3, 0)
    assert found.of_draws > found.of_levels  # the slope moves the roll to the horizon, most of all
