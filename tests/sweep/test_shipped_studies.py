"""The shipped studies: small enough, with words that teach; a cut of each runs and is drawn."""

from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest
from cli.runner import answer
from sweep.cut import cut

from sidehill.files.library import find, shipped
from sidehill.run.facts import PROGRESS, STABILITY
from sidehill.study.draw import size
from sidehill.study.sample import Sample
from sidehill.study.study import load_study
from sidehill.sweep.results import load_results

VARYING = [name for name in shipped("study") if load_study(name).vary]
PICTURES = {
    "spacers-and-ballast": ["curves"],
    "speed-and-stone": ["map-stability", "map-peak_roll_deg"],
    "front-or-rear": ["map-stability", "map-peak_roll_deg"],
    "bad-day": ["chances", "shares"],
    "edge-that-breaks": ["map-stability", "map-peak_roll_deg"],
}


def test_every_study_that_varies_is_here() -> None:
    assert set(PICTURES) == set(VARYING)


@pytest.mark.parametrize("name", VARYING)
def test_it_says_what_it_teaches(name: str) -> None:
    lines = find("study", name).read_text().splitlines()
    comments = [line for line in lines if line.startswith("#")]
    assert len(comments) >= 4 and f"#   sidehill map {name}" in comments


@pytest.mark.parametrize("name", VARYING)
def test_its_size_suits_a_laptop(name: str) -> None:
    """A run takes 20 to 30 ms a core, a strip by 1 deg about 60 runs."""
    study = load_study(name)
    runs = size(study.axes, study.sample or Sample()) * len(study.options)
    assert runs * (60 if study.find else 1) <= 5000


@pytest.mark.parametrize("name", VARYING)
def test_a_cut_of_it_runs_and_is_drawn(
    name: str, swept: Callable[[str], Path], tmp_path: Path
) -> None:
    study, results = cut(load_study(name)), swept(name)
    table: pd.DataFrame = load_results(results).table()
    assert len(table) == size(study.axes, study.sample or Sample())
    assert table["problem"].isna().all()
    assert set(table["stability"]) <= set(STABILITY) and set(table["progress"]) <= set(PROGRESS)
    if study.find:
        assert table["strip_bands"].str.len().gt(2).all()
        assert {f"{event}_good_up_to_deg" for event in study.find.until} <= set(table.columns)
    found = answer(f"map {results} -o {tmp_path / 'drawn'}")
    assert [one["picture"] for one in found["pictures"]] == PICTURES[name]
    for one in found["pictures"]:
        assert Path(one["file"]).read_bytes().startswith(b"\x89PNG")


def test_options_of_the_bad_day_differ_in_the_bucket_only() -> None:
    high, low = (option.outfit for option in load_study("bad-day").options)
    assert high.model_copy(update={"bucket_height": low.bucket_height}) == low


def test_seeds_of_draws_are_explicit() -> None:
    drawn = [load_study(name) for name in VARYING if load_study(name).sample]
    assert drawn and all("seed" in study.sample.model_fields_set for study in drawn)  # type: ignore[union-attr]
