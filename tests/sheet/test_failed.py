"""An option that could not be simulated: it is said, and the others are there."""

from dataclasses import replace
from pathlib import Path

import pytest
from sheet.pages import read_page

from sidehill.advice.look import Look
from sidehill.files.errors import InputError
from sidehill.sheet.looks import Looks
from sidehill.sheet.make import Sheet, make_sheet
from sidehill.sheet.runs import runnable
from sidehill.sheet.wish import Wish
from sidehill.study.study import Study

WHY = "its engine failed: <b>"


def without(looks: Looks, *names: str) -> Looks:
    """The looks when those options failed in their simulation."""
    lost = {name: Look(name, looks.options[name].case, None, None, WHY) for name in names}
    return replace(looks, options={**looks.options, **lost})


@pytest.mark.parametrize("name", ["as delivered", "rear spacers 76 mm"])
def test_one_option_that_failed(made: Sheet, study: Study, tmp_path: Path, name: str) -> None:
    wish = Wish(tmp_path / "records", quick=True, film="none", replay="none")
    looks = without(made.found.looks, name)
    sheet = make_sheet(study, tmp_path / "x.html", wish, looks=looks)
    text = read_page(sheet.html)[0]
    assert f"not computed: {WHY}" in text
    assert name not in sheet.found.shown.records
    assert name not in sheet.found.loads.peaks
    ranked = {option.option: option for option in sheet.found.ranking.options}
    assert not ranked[name].is_pareto
    assert ranked[name].place is None
    assert ranked[name].price.heaviest_bearing("rear", "peak") is None


def test_where_all_failed_it_is_refused(made: Sheet, study: Study) -> None:
    names = [option.name for option in study.options]
    with pytest.raises(InputError, match="no option could be simulated: its engine failed"):
        runnable(study, without(made.found.looks, *names))
    assert runnable(study, without(made.found.looks, *names[1:])) == ("as delivered",)
