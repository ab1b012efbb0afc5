"""A machine that lacks much, names that are markup, the left side downhill, a study with [vary]."""

from pathlib import Path

import pytest
from sheet.pages import read_page

from sidehill.files import toml
from sidehill.files.library import find
from sidehill.files.spec import build
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.sheet.make import Sheet, make_sheet
from sidehill.sheet.standing import standing
from sidehill.sheet.wish import Wish
from sidehill.study.make import make_study
from sidehill.study.study import Study

EVIL = '<script>alert("x")</script> $\\frac$ &amp;'
LACKING = ("limits", "attachment", "ballast", "rops", "loader")


def bare() -> Machine:
    """Bramble without most of what its file has."""
    data = toml.read(find("machine", "bramble")).data
    for table in LACKING:
        del data[table]
    for tyre in ("front_tyre", "rear_tyre"):
        for field in ("hub_offset", "max_load"):
            del data[tyre][field]
    data["name"] = EVIL[:40]
    data["weighed"]["cg_height"] = "320 mm"  # under two thirds of the rear wheel's radius
    return build(Machine, toml.Document("bare.toml", data))


@pytest.fixture(scope="module")
def evil(study: Study) -> Study:
    return make_study(
        bare(),
        study.scenario.with_values({"ground.downhill": "left"}),
        {EVIL: Outfit(), "=1+1": Outfit(rear_spacer="76 mm")},
        title=EVIL,
        vary={"ground.slope": ["5 deg", "6 deg"]},
    )


@pytest.fixture(scope="module")
def sheets(evil: Study, tmp_path_factory: pytest.TempPathFactory) -> tuple[Sheet, Sheet]:
    """The same sheet twice, of the same limits: runs that are made, and runs that are read."""
    folder: Path = tmp_path_factory.mktemp("bare")
    wish = Wish(folder / "records", quick=True, film="none", replay="none", us=True)
    first = make_sheet(evil, folder / "bare.html", wish)
    return first, make_sheet(evil, folder / "bare.html", wish, looks=first.found.looks)


def test_same_inputs_same_bytes(sheets: tuple[Sheet, Sheet]) -> None:
    assert sheets[0].html == sheets[1].html


def test_names_never_become_markup_or_formulas(sheets: tuple[Sheet, Sheet]) -> None:
    assert b"<script" not in sheets[0].html
    text, tags = read_page(sheets[0].html)
    assert EVIL in text
    assert all(tag != "script" for tag, _ in tags)


def test_what_is_missing_is_named_and_the_rest_is_there(sheets: tuple[Sheet, Sheet]) -> None:
    text = read_page(sheets[0].html)[0]
    for lack in ("[limits]", "[[attachment]]", "[rops]", "[loader]", "hub_offset", "max_load"):
        assert f"lacks {lack}" in text or lack in text
    assert "not looked for: the machine file" in text  # no place for a rear box
    assert "=1+1" in text
    assert "No film was asked for." in text
    assert "the study's [vary] is not looked at here" in text


def test_a_cg_that_is_hardly_so_low_is_warned_of_on_page_one(sheets: tuple[Sheet, Sheet]) -> None:
    text = read_page(sheets[0].html)[0]
    first = text[: text.index("Appendix:")]
    assert "Warning: CG height 320 mm" in first.replace("\xa0", " ")
    assert "look at the readings again" in first


def test_us_units_come_first(sheets: tuple[Sheet, Sheet]) -> None:
    assert "lb (990 kg) bare" in read_page(sheets[0].html)[0].replace("\xa0", " ")


def test_an_interval_knows_which_side_is_downhill() -> None:
    """With the CG 40 mm to the left, the left side downhill is the worse one, as in `tip`."""
    leaning = bare().with_values({"weighed.cg_offset": "40 mm"})
    left, right = (standing(leaning, Outfit(), side) for side in ("left", "right"))
    even = standing(bare(), Outfit(), "left")
    assert left.least < even.least < right.least
