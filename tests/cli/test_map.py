"""`sidehill map`: which pictures, of what, and what it refuses."""

import shlex
import shutil
from collections.abc import Callable
from pathlib import Path

import pandas as pd
import pytest
from cli.runner import answer, refused, run

import sidehill
from sidehill.cli.map import EXAMPLES
from sidehill.map.needs import needed
from sidehill.map.plan import Chances, Curves, Map, Shares, plan, varied
from sidehill.map.subject import parts
from sidehill.run.record import load_record
from sidehill.study.study import Study, load_study
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.run_study import run_study
from sidehill.sweep.task import ask

STUDY = """
title = "Two spacers on two banks"
machine = "bramble"
scenario = "bank-stone"
[[option]]
name = "empty"
[[option]]
name = "loaded"
bucket_load = "250 kg"
[vary]
"outfit.rear_spacer" = ["0 mm", "76 mm"]
"ground.slope" = ["8 deg", "30 deg"]
"""
LIMITS = """
title = "Limits"
machine = "bramble"
scenario = "bank-stone"
[vary]
"outfit.rear_spacer" = ["0 mm", "76 mm"]
[find]
until = ["on_stop", "not_across"]
scan = "4 deg"
tolerance = "0.5 deg"
low = "4 deg"
"""
SPREAD = """
title = "Draws"
machine = "bramble"
scenario = "bank-stone"
[vary]
"ground.slope" = { low = "4 deg", high = "26 deg" }
"drive.speed" = { low = "3 km/h", high = "8 km/h" }
[sample]
method = "%s"
n = 16
"""


def written(folder: Path, text: str, name: str = "mine.toml") -> Path:
    path = folder / name
    path.write_text(text)
    return path


def meta(path: Path) -> dict[str, object]:
    study: Study = load_study(path)
    return Agenda(study, ask("compiled")).meta


@pytest.fixture(scope="module")
def results(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("swept")
    study = load_study(written(folder, STUDY))
    return run_study(study, folder / "out", engine="compiled", workers=1).folder


@pytest.fixture(scope="module")
def limits(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("found")
    study = load_study(written(folder, LIMITS))
    return run_study(study, folder / "out", engine="compiled", workers=1).folder


@pytest.mark.parametrize("folder", ["results", "limits"])
def test_what_is_not_drawn_is_not_read_and_not_missed(
    folder: str, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = sidehill.load_results(request.getfixturevalue(folder))
    pictures = plan(known.meta, None, None, None, ())
    few = needed(known, pictures)
    assert few is not None and len(few) < 0.7 * len(known.columns) and "why" not in few
    drawn = sidehill.draw_map(known)
    monkeypatch.setattr("sidehill.map.make.needed", lambda *_: None)
    whole = sidehill.draw_map(known)
    assert [one.content for one in drawn] == [one.content for one in whole]
    assert [one.csv("x") for one in drawn] == [one.csv("x") for one in whole]


def test_pictures_suit_the_study(tmp_path: Path) -> None:
    slope, spacer = "ground.slope_deg", "outfit.rear_spacer_m"
    grid = plan(meta(written(tmp_path, STUDY)), None, None, None, ())
    assert grid == [Map(spacer, slope, "stability"), Map(spacer, slope, "peak_roll_deg")]
    found = plan(meta(written(tmp_path, LIMITS)), None, None, None, ())
    assert found == [Curves(spacer, None, ())]
    latin = plan(meta(written(tmp_path, SPREAD % "latin")), None, None, None, ())
    assert latin == [Chances(())]
    saltelli = plan(meta(written(tmp_path, SPREAD % "saltelli")), None, None, None, ())
    assert saltelli == [
        Chances(()),
        Shares(("least_balance_angle_deg", "not_across", "not_started")),
    ]


def test_one_list_is_drawn_over_the_options(tmp_path: Path) -> None:
    text = STUDY.replace('"ground.slope" = ["8 deg", "30 deg"]', '"ground.slope" = ["8 deg"]')
    known = meta(written(tmp_path, text))
    assert varied(known).fixed == ("ground.slope_deg",)
    assert plan(known, None, None, "stability", ())[0] == Map(
        "outfit.rear_spacer_m", "option", "stability"
    )


def test_parts_go_by_option_and_then_by_number() -> None:
    table = pd.DataFrame(
        {"option": ["b", "a", "b", "a"], "ground.slope_deg": [14.0, 14.0, 6.0, 6.0]}
    )
    assert list(parts(table, ("option", "ground.slope_deg"))) == [
        "b, side slope 6°", "b, side slope 14°", "a, side slope 6°", "a, side slope 14°"
    ]  # fmt: skip


def test_fields_go_by_either_name(tmp_path: Path) -> None:
    known = meta(written(tmp_path, STUDY))
    by_name = plan(known, "ground.slope", "option", "margin", ())
    assert by_name == plan(known, "ground.slope_deg", "option", "margin", ())
    assert by_name == [Map("ground.slope_deg", "option", "margin")]


def test_maps_of_a_grid(results: Path) -> None:
    found = answer(f"map {results}")
    files = [Path(one["file"]) for one in found["pictures"]]
    assert [file.name for file in files] == ["map-stability.png", "map-peak_roll_deg.png"]
    assert all(file.parent == results and file.stat().st_size > 5000 for file in files)
    assert sum(found["facts"].values()) == 8
    assert any(name.endswith(", not_started") for name in found["facts"])
    assert not any("not computed" in text for text in found["warnings"])


def test_one_picture_as_svg_and_one_option(results: Path, tmp_path: Path) -> None:
    file = tmp_path / "new" / "margin.svg"
    found = answer(f"map {results} --of margin --option loaded -o {file}")
    text = file.read_text()
    assert text.startswith("<?xml") and sum(found["facts"].values()) == 4
    answer(f"map {results} --of margin --option loaded -o {file}")
    assert file.read_text() == text  # the same bytes


def test_words_for_people(results: Path) -> None:
    said = run(f"map {results} --of stability").stdout
    assert "8 cases" in said and "not_started" in said
    assert "it does not permit" in said


def test_a_traced_case_is_driven_once_and_kept(results: Path) -> None:
    table = pd.read_parquet(results / "results.parquet")
    row = table[table["progress"] != "not_started"].iloc[0]
    found = answer(f"map {results} --trace {row['case'][:8]}")
    [picture] = found["pictures"]
    assert picture["picture"] == "traces" and row["case"] in picture.values()
    [kept] = (results / "records").iterdir()
    record = load_record(kept)
    assert record.meta["key"] == row["case"]
    before = kept.stat().st_mtime_ns
    answer(f"map {results} --trace {row['case'][:8]}")
    assert kept.stat().st_mtime_ns == before


def test_curves_and_the_ends_of_a_limit(limits: Path) -> None:
    [picture] = answer(f"map {limits}")["pictures"]
    assert picture["picture"] == "curves"
    key = pd.read_parquet(limits / "results.parquet")["case"][0]
    [traces] = answer(f"map {limits} --trace {key}")["pictures"]
    names = [name for name in traces if name.startswith(key[:6])]
    assert len(names) == 2
    assert "last good side slope" in names[0] and "first bad side slope" in names[1]


def test_a_study_is_run_where_it_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    path = written(tmp_path, SPREAD % "saltelli", "draws.toml")
    first = answer(f"map {path} --engine compiled")
    assert (tmp_path / "sidehill-draws" / "results.parquet").is_file()
    [chances] = first["pictures"][0]["probabilities"].values()
    assert [one["draws"] for one in chances] == [32] * 5  # A and B, not what is mixed of them
    before = (tmp_path / "sidehill-draws" / "results.parquet").stat().st_mtime_ns
    assert answer(f"map {path} --engine compiled") == first
    assert (tmp_path / "sidehill-draws" / "results.parquet").stat().st_mtime_ns == before
    binned = answer("map sidehill-draws --of stability -o v.png")
    assert binned["pictures"][0]["x"] == "ground.slope_deg"


def test_the_law_of_the_tyres_is_the_sweeps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`map STUDY --tyre LAW` runs what `sweep STUDY --tyre LAW` runs, to the byte."""
    monkeypatch.chdir(tmp_path)
    path = written(tmp_path, STUDY)
    tables = []
    for line in ("sweep {} --tyre enveloping", "map {} --tyre enveloping", "map {}"):
        answer(f"{line.format(path)} --engine compiled")
        tables.append(Path("sidehill-mine/results.parquet").read_bytes())
        shutil.rmtree("sidehill-mine")
    assert tables[0] == tables[1] != tables[2]


@pytest.mark.parametrize("example", EXAMPLES)
def test_the_examples_of_the_help_run(
    example: str,
    swept: Callable[[str], Path],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """On a cut of the study that they name, so that nobody waits for the whole of it."""
    monkeypatch.chdir(tmp_path)
    target = shlex.split(example)[2]
    name = target.removeprefix("sidehill-")
    shutil.copytree(swept(name), f"sidehill-{name}")
    line = example.removeprefix("sidehill ").replace(target, f"sidehill-{name}")
    for one in answer(line)["pictures"]:
        assert Path(one["file"]).stat().st_size > 5000


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ("--x ground.slop", 'no varied field "ground.slop"; did you mean "ground.slope"?'),
        ("--x ground.slope --y ground.slope_deg", "a map needs two things that vary"),
        ("--of peak_rol", 'did you mean "peak_roll_deg"?'),
        ("--option lodaed", 'option "lodaed": the study has'),
        ("-o {tmp}/x.png", "there are 2 pictures (map-stability, map-peak_roll_deg)"),
        ("-o {tmp}/x.jpg", "give a folder, or a name ending in .png or .svg"),
        ("--trace zz", "no case in"),
        ("--tyre enveloping", "--tyre is for a study; the results of a folder are what they are"),
    ],
)
def test_what_is_refused(results: Path, tmp_path: Path, options: str, said: str) -> None:
    message = refused(f"map {results} {options.format(tmp=tmp_path)}")
    assert said in message and "\n" not in message


def test_a_folder_of_something_else_and_a_study_that_varies_nothing(tmp_path: Path) -> None:
    assert "no results of a sweep" in refused(f"map {tmp_path}")
    assert "varies nothing that could be drawn over" in refused("map demo")
    assert 'no study called "none"' in refused("map none")


def test_the_same_pictures_from_python(results: Path, tmp_path: Path) -> None:
    """Bytes of the command's files, what they say of themselves, and nothing written."""
    before = sorted(results.iterdir())
    drawn = sidehill.draw_map(sidehill.load_results(results), of="margin", option="loaded")
    told = answer(f"map {results} --of margin --option loaded -o {tmp_path}")["pictures"]
    assert [one.name for one in drawn] == [picture["picture"] for picture in told]
    for one, picture in zip(drawn, told, strict=True):
        assert Path(picture["file"]).read_bytes() == one.content
    assert sorted(results.iterdir()) == before


def test_what_cannot_be_drawn_from_python_is_refused(results: Path) -> None:
    known = sidehill.load_results(results)
    with pytest.raises(sidehill.InputError, match='option "lodaed": the study has'):
        sidehill.draw_map(known, option="lodaed")
    with pytest.raises(sidehill.InputError, match=r'no varied field "drive\.speed"'):
        sidehill.draw_map(known, x="drive.speed")
