"""A study that was changed computes what is missing; what comes out is what a fresh one gives."""

import json
from dataclasses import replace
from pathlib import Path

import pandas as pd
import pyarrow.parquet as pq
import pytest
from sweep.stop import Stop

from sidehill.files.errors import InputError
from sidehill.machine.outfit import Outfit
from sidehill.study.make import make_study
from sidehill.study.study import Study
from sidehill.sweep import same, task
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import Results
from sidehill.sweep.run_study import run_study
from sidehill.sweep.table import PARTS, PLAN

VARY = {
    "run.step": ["2 ms"],
    "course.length": ["4 m"],
    "feature.1.at": ["2.9 m"],
    "ground.slope": {"low": "2 deg", "high": "22 deg"},
    "drive.speed": {"low": "4 km/h", "high": "8 km/h"},
}
OPTIONS = {"low": Outfit(), "high": Outfit(bucket_height="full")}


def study(options: dict[str, Outfit] = OPTIONS, vary: object = VARY, **sample: object) -> Study:
    plan = {"method": "sobol", "n": 4, "seed": 3} | sample
    return make_study("bramble", "bank-stone", options, vary=vary, sample=plan, title="Grows")


def run(of: Study, folder: Path, **how: object) -> tuple[Results, Progress]:
    seen: list[Progress] = []
    found = run_study(of, folder, engine="compiled", workers=1, watch=seen.append, **how)
    return found, seen[-1] if seen else Progress(0)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Results:
    return run(study(), tmp_path_factory.mktemp("small") / "out")[0]


def copied(of: Results, folder: Path) -> Path:
    folder.mkdir()
    for path in of.folder.iterdir():
        if path.is_file():
            (folder / path.name).write_bytes(path.read_bytes())
    return folder


CHANGED = {
    "more draws": (study(n=8), 8),
    "a further replicate": (study(replicates=2), 8),
    "a further option": (study(OPTIONS | {"wide": Outfit(rear_spacer=0.05)}), 8),
    "an option less, named otherwise": (study({"tall": Outfit(bucket_height="full")}), 4),
}


@pytest.mark.parametrize("name", CHANGED)
def test_what_is_missing_is_computed_and_nothing_else(
    name: str, small: Results, tmp_path: Path
) -> None:
    changed, known = CHANGED[name]
    folder = copied(small, tmp_path / "grown")
    grown, progress = run(changed, folder)
    assert (progress.known, progress.done) == (known, progress.of - known)
    fresh, _ = run(changed, tmp_path / "fresh")
    assert grown.file.read_bytes() == fresh.file.read_bytes()
    if progress.done:
        assert f"{known} of {progress.of} cases were known" in grown.notes[0]
    # what is not in the new table is kept
    assert (folder / "earlier").exists() == (name == "an option less, named otherwise") or not any(
        (folder / "earlier").iterdir()
    )


def test_a_finer_grid_keeps_its_places(tmp_path: Path) -> None:
    def grid(*slopes: str) -> Study:
        how = {name: VARY[name] for name in ("run.step", "course.length", "feature.1.at")}
        return make_study("bramble", "bank-stone", vary=how | {"ground.slope": list(slopes)})

    run(grid("4 deg", "8 deg"), tmp_path / "grid")
    grown, progress = run(grid("4 deg", "6 deg", "8 deg"), tmp_path / "grid")
    assert (progress.known, progress.done) == (2, 1)
    assert (
        grown.file.read_bytes()
        == run(grid("4 deg", "6 deg", "8 deg"), tmp_path / "b")[0].file.read_bytes()
    )


def test_a_stop_on_the_way_loses_nothing(small: Results, tmp_path: Path) -> None:
    folder = copied(small, tmp_path / "grown")
    with pytest.raises(KeyboardInterrupt):
        run_study(study(n=8), folder, engine="compiled", executor=Stop(after=1), workers=1)
    grown, progress = run(study(n=8), folder)
    assert progress.kept + progress.done == 16 and progress.done <= 8
    assert grown.file.read_bytes() == run(study(n=8), tmp_path / "fresh")[0].file.read_bytes()


def test_two_folders_are_merged(small: Results, tmp_path: Path) -> None:
    other, _ = run(study(seed=4), tmp_path / "other")
    both, progress = run(study(replicates=2), tmp_path / "both", known=[small.folder, other.folder])
    assert (progress.known, progress.done) == (16, 0)
    table = both.table()
    assert list(table["replicate"]) == [0] * 8 + [1] * 8
    assert set(table["case"]) == {*small.table()["case"], *other.table()["case"]}
    assert small.file.is_file() and other.file.is_file()
    found = json.loads((other.folder / PLAN).read_text()) | {"physics": "old"}
    (other.folder / PLAN).write_text(json.dumps(found))
    with pytest.raises(InputError, match="another version of the physics"):
        run(study(replicates=2), tmp_path / "again", known=[other.folder])


def test_what_went_wrong_is_run_again(small: Results, tmp_path: Path) -> None:
    folder = copied(small, tmp_path / "grown")
    table = pq.read_table(folder / "results.parquet")
    problems = ["it broke", *table["problem"].to_pylist()[1:]]
    place = table.schema.get_field_index("problem")
    pq.write_table(table.set_column(place, table.field("problem"), [problems]), folder / "x")
    (folder / PARTS).mkdir()
    (folder / "x").replace(folder / PARTS / "part-000000.parquet")
    (folder / "results.parquet").unlink()
    grown, progress = run(study(n=8), folder)
    assert (progress.known, progress.done) == (7, 9)
    assert grown.table()["problem"].isna().all()


def test_a_changed_title_is_kept_true_and_runs_nothing(
    small: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = copied(small, tmp_path / "titled")
    monkeypatch.setattr(task, "work", lambda _: pytest.fail("was run again"))
    found, _ = run(replace(study(), title="Another name"), folder)
    assert found.meta["title"] == "Another name"
    told = json.loads(pq.read_schema(found.file).metadata[b"sidehill"])
    assert told["title"] == json.loads((folder / PLAN).read_text())["title"] == "Another name"
    pd.testing.assert_frame_equal(found.table(), small.table())


def test_nothing_in_common_is_another_study(small: Results, tmp_path: Path) -> None:
    folder = copied(small, tmp_path / "other")
    with pytest.raises(InputError, match=r"another study, .* no case of it is in this one"):
        run(study(seed=77), folder)
    assert load_bytes(folder) == load_bytes(small.folder)


def load_bytes(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file() and p.name != ".lock"}


def test_a_change_of_physics_names_what_changed_and_what_must_be_run_again(
    small: Results, tmp_path: Path
) -> None:
    folder = copied(small, tmp_path / "old")
    found = json.loads((folder / PLAN).read_text())
    found["physics"] = "0" * 16
    found["sources"]["kernels/tyre.py"] = "0" * 8
    (folder / PLAN).write_text(json.dumps(found))
    with pytest.raises(InputError, match=r"all of its 8 cases must be run again, .* kernels/tyre"):
        run(study(), folder)
    assert same.changed(found["sources"]) == "changed: kernels/tyre.py"
