"""What a long table came to, counted group by group, against the whole of it at once."""

from collections import Counter
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from sweep.cheap import cheap_study

from sidehill.run.facts import NOT_STARTED
from sidehill.sweep import table as tables
from sidehill.sweep.measure import pairs, told
from sidehill.sweep.results import Results
from sidehill.sweep.run_study import run_study
from sidehill.sweep.tally import tally


def by_hand(row: pd.Series) -> tuple[tuple[object, ...], ...]:
    """The facts of one row, read cell by cell."""

    def plain(name: str) -> object:
        value = row.get(name)
        return None if value is None or pd.isna(value) else value

    own, again = (
        tuple(plain(f"{engine}{fact}") for fact in ("stability", "progress", "met"))
        for engine in ("", "reference_")
    )
    if plain("problem") is not None or own[0] is None:
        return ()
    return (own,) if plain("reference") is None else (own, again)


@pytest.fixture
def table() -> pd.DataFrame:
    """Every mixture of what a row may say, three times over and shuffled."""
    words = {"stability": ["planted", "lifted", None], "progress": ["across", NOT_STARTED, None]}
    levels = {
        "problem": [None, "went wrong"], **words, "met": [True, False, None],
        "reference": [None, "mujoco"], "reference_stability": ["planted", "on_stop", None],
        "reference_progress": ["across", None], "reference_met": [True, None],
    }  # fmt: skip
    every = pd.MultiIndex.from_product(levels.values(), names=levels).to_frame(index=False)
    every = every.astype({"met": "boolean", "reference_met": "boolean"})
    return pd.concat([every] * 3).sample(frac=1.0, random_state=1)


@pytest.mark.parametrize("as_categories", [False, True])
def test_facts_are_those_of_every_row_read_by_itself(
    table: pd.DataFrame, as_categories: bool
) -> None:
    wanted = [by_hand(row) for _, row in table.iterrows()]
    words = [name for name in table if "met" not in name]
    seen = table.astype(dict.fromkeys(words, "category")) if as_categories else table
    found = told(seen)
    assert found == wanted
    assert all(type(met) in (bool, type(None)) for runs in found for _, _, met in runs)
    for name, facts in zip(pairs(seen), wanted, strict=True):
        known = facts and facts[0][1] is not None
        assert name == (f"{facts[0][0]}, {facts[0][1]}" if known else "not computed")
    assert told(table.drop(columns=[n for n in table if n.startswith("reference")])) == [
        runs[:1] for runs in wanted
    ]


def test_groups_of_rows_add_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tables, "GROUP", 8)
    results: Results = run_study(
        cheap_study(tmp_path, 12), tmp_path / "out", engine="compiled", workers=1
    )
    whole = results.table()
    found = tally(results)
    assert found.rows == len(whole) and found.facts == Counter(pairs(whole))
    for name, case in found.first.items():
        assert case == whole["case"][(pairs(whole) == name).to_numpy()].iloc[0]
    options = [tally(results, option) for option in results.meta["options"]]
    assert sum((one.facts for one in options), Counter()) == found.facts


def test_columns_read_one_by_one_are_those_of_pandas(tmp_path: Path) -> None:
    results: Results = run_study(
        cheap_study(tmp_path, 12), tmp_path / "out", engine="compiled", workers=1
    )
    whole = pd.read_parquet(results.file)
    pd.testing.assert_frame_equal(results.to_pandas(), whole)
    pd.testing.assert_frame_equal(results.table(["draw", "why"]), whole[["draw", "why"]])
    option = next(iter(results.meta["options"]))
    own = whole[whole["option"] == option].reset_index(drop=True)
    pd.testing.assert_frame_equal(results.to_pandas(option), own)
    some = results.to_pandas(option, ["progress", "path_m"], ["progress"])
    assert some["progress"].tolist() == own["progress"].tolist()
    assert np.array_equal(some["path_m"], own["path_m"])
