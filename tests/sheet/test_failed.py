"""An option that could not be simulated: it is said, and the others are there."""

from dataclasses import replace
from pathlib import Path

import pandas as pd
import pytest
from sheet.pages import read_page

from sidehill.files.errors import InputError
from sidehill.sheet.make import Sheet, make_sheet
from sidehill.sheet.runs import runnable
from sidehill.sheet.wish import Wish
from sidehill.strip.trial import UNTIL
from sidehill.study.study import Study

WHY = "its process failed: <b>"


def with_problem(table: pd.DataFrame, name: str) -> pd.DataFrame:
    """The table as `compare` gives it when that option failed in its simulation."""
    failed = table.copy()
    row = failed["option"] == name
    for until in UNTIL:
        for end in ("highest_good_deg", "lowest_bad_deg", "verdict_at_limit", "bands"):
            failed.loc[row, f"{until}_{end}"] = None
        failed.loc[row, f"{until}_is_threshold"] = pd.NA
    failed.loc[row, "problem"] = WHY
    return failed


@pytest.mark.parametrize("name", ["as delivered", "rear spacers 76 mm"])
def test_one_option_that_failed(made: Sheet, study: Study, tmp_path: Path, name: str) -> None:
    table = with_problem(made.found.table, name)
    wish = Wish(tmp_path / "records", quick=True, film="none")
    sheet = make_sheet(study, tmp_path / "x.html", wish, table=table)
    text = read_page(sheet.html)[0]
    assert f"not computed {WHY}" in text
    assert name not in sheet.found.shown.records
    assert name not in sheet.found.loads.peaks
    ranked = {option.option: option for option in sheet.found.ranking.options}
    assert not ranked[name].is_pareto
    assert ranked[name].price.heaviest_bearing("rear", "peak") is None


def test_where_all_failed_it_is_refused(made: Sheet, study: Study) -> None:
    table = made.found.table
    for option in study.options:
        table = with_problem(table, option.name)
    with pytest.raises(InputError, match="no option could be simulated: its process failed"):
        runnable(study, table)
    assert runnable(replace(study, options=study.options[:1]), made.found.table) == (
        "as delivered",
    )
