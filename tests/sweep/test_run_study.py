"""A sweep: one row a case, the same whoever computes it, gone on with, never mixed."""

import csv
import json
from concurrent.futures import ThreadPoolExecutor
from math import degrees, radians
from pathlib import Path

import pandas as pd
import pytest
from sweep.cheap import cheap_study
from sweep.conftest import DRAWS
from sweep.stop import Stop

from sidehill.caution import CAUTION
from sidehill.cli.sweep_report import summary
from sidehill.cli.sweep_run import Found
from sidehill.engines import compiled
from sidehill.files.errors import EngineError, InputError
from sidehill.kernels.layout import BROKEN
from sidehill.run import run
from sidehill.run.outcome import read
from sidehill.strip.strip import take_strip
from sidehill.study.make import make_study
from sidehill.study.study import Study
from sidehill.sweep import folder as folders
from sidehill.sweep import run_row, task
from sidehill.sweep.agenda import Agenda
from sidehill.sweep.measure import answers
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import Results, load_results
from sidehill.sweep.run_study import run_study as sweep
from sidehill.sweep.version import ROW_VERSION


def test_a_row_is_the_outcome_of_its_case(cheap: Study, serial: Results) -> None:
    table = serial.table()
    assert len(table) == 2 * DRAWS == table["case"].nunique()
    assert list(table["draw"]) == [k // 2 for k in range(2 * DRAWS)]
    assert list(table["option"][:2]) == ["low", "high"]
    assert table["problem"].isna().all()
    assert set(table["physics"]) == {ROW_VERSION}
    for _, row in table.iloc[[0, 7, 33]].iterrows():
        case = serial.case(row)
        assert case.key() == row["case"]
        assert case.scenario.ground.slope == radians(row["ground.slope_deg"])
        assert case.scenario.drive.speed == row["drive.speed_m_s"]
        track = run(case, "compiled")
        outcome = read(track.state, track.flat.case)
        plain = ("stability", "progress", "met", "why", "peak_roll_deg", "stop_hits", "path_m")
        angles = ("least_balance_angle_deg", "least_lift_off_angle_deg")
        for name in (*plain, *angles, "spell_count", "longest_spell_s", "most_daylight_m"):
            assert row[name] == getattr(outcome, name)
        assert row["least_load_rear_left_n"] == outcome.min_load_n["rear_left"]
        first = sorted(outcome.spells, key=lambda spell: spell.start_s)[:1]
        wheel = None if pd.isna(row["first_up"]) else row["first_up"]
        assert [wheel] == ([spell.wheel for spell in first] or [None])


def test_options_have_the_same_draws(serial: Results) -> None:
    table = serial.table()
    low, high = (table[table["option"] == name].reset_index() for name in ("low", "high"))
    for column in ("ground.slope_deg", "drive.speed_m_s"):
        assert low[column].equals(high[column])
        assert low[column].nunique() == DRAWS


def test_a_machine_that_cannot_stand_there_is_an_outcome_and_no_hole(tmp_path: Path) -> None:
    steep = '"ground.slope" = ["40 deg", "4 deg"]\n'
    study = cheap_study(tmp_path, 2, steep)
    table = sweep(study, tmp_path / "out", engine="compiled", workers=1).table()
    high = table[table["ground.slope_deg"] == 40.0]
    assert len(high) and set(high["progress"]) == {"not_started"}
    assert high["problem"].isna().all() and not high["met"].any()
    assert answers(high, "not_across") == [True] * len(high)


def test_numbers_that_went_bad_are_a_problem_and_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = run_row.run

    def broken(case: object, engine: str) -> object:
        track = real(case, engine)
        track.state["finish"][0] = BROKEN
        return track

    monkeypatch.setattr(run_row, "run", broken)
    study = cheap_study(tmp_path, 2)
    results = sweep(study, tmp_path / "out", engine="compiled", workers=1)
    table = results.table()
    assert table["problem"].str.contains("numbers went bad").all()
    for column in ("stability", "progress", "met", "peak_roll_deg", "spell_count", "stop_hits"):
        assert table[column].isna().all()
    assert summary(Found(study, results, Progress(4)))["facts"] == {"not computed": 4}


def test_the_data_dictionary_has_every_column_with_its_unit(serial: Results) -> None:
    with (serial.folder / folders.COLUMNS).open(encoding="utf-8") as file:
        known = list(csv.DictReader(file))
    caution = known.pop()
    assert (caution["column"], caution["meaning"]) == ("", CAUTION)
    assert [row["column"] for row in known] == list(serial.table().columns)
    units = {row["column"]: row["unit"] for row in known}
    assert units["ground.slope_deg"] == units["peak_roll_deg"] == "deg"
    assert units["drive.speed_m_s"] == "m/s"
    assert units["peak_load_rear_left_n"] == "N"
    assert all(row["meaning"] for row in known)


def test_two_processes_and_threads_give_the_same_table(
    cheap: Study, serial: Results, tmp_path: Path
) -> None:
    with ThreadPoolExecutor(3) as threads:
        by_threads = sweep(cheap, tmp_path / "a", engine="compiled", executor=threads, workers=3)
    by_processes = sweep(cheap, tmp_path / "b", engine="compiled", workers=2)
    for other in (by_threads, by_processes):
        pd.testing.assert_frame_equal(other.table(), serial.table())
        assert other.file.read_bytes() == serial.file.read_bytes()


def test_a_dask_cluster_gives_the_same_table(cheap: Study, serial: Results, tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed", reason="the extra `cluster` is not installed")
    from sidehill.sweep.cluster import cluster

    with (
        distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, dashboard_address=None
        ) as local,
        cluster(local.scheduler_address) as (executor, workers),
    ):
        assert workers == 2
        found = sweep(cheap, tmp_path, engine="compiled", executor=executor, workers=workers)
    assert found.file.read_bytes() == serial.file.read_bytes()


def test_what_was_interrupted_goes_on(
    cheap: Study, serial: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(KeyboardInterrupt):
        sweep(cheap, tmp_path, engine="compiled", executor=Stop(after=5), workers=1)
    kept = len(list((tmp_path / folders.PARTS).glob("*.parquet")))
    assert 3 <= kept <= 5
    with pytest.raises(InputError, match=r"not finished; `sidehill sweep .* goes on with it"):
        load_results(tmp_path)
    seen: list[Progress] = []
    done = []
    work = task.work
    monkeypatch.setattr("sidehill.sweep.dispatch.work", lambda t: done.append(t) or work(t))
    found = sweep(cheap, tmp_path, engine="compiled", workers=1, watch=seen.append)
    assert len(done) == 15 - kept
    assert seen[-1].kept == 4 * kept and seen[-1].done == 60 - 4 * kept
    assert sum(seen[-1].counts.values()) == 60
    assert found.file.read_bytes() == serial.file.read_bytes()
    assert not (tmp_path / folders.PARTS).exists()
    done.clear()
    assert sweep(cheap, tmp_path, engine="compiled", workers=1).meta == found.meta
    assert not done  # nothing is missing
    assert load_results(tmp_path).meta == json.loads(json.dumps(found.meta))


def test_auto_runs_what_is_close_again_and_shows_a_disagreement(
    cheap: Study, serial: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("mujoco")
    monkeypatch.setattr(run_row, "near", lambda *_: ("hop",))
    monkeypatch.setattr(run_row, "_facts", lambda case, engine: ("lifted", "slid", False))
    seen: list[Progress] = []
    table = sweep(cheap, tmp_path, workers=1, watch=seen.append).table()
    assert set(table["reference_stability"]) == {"lifted"}
    assert set(table["reference_progress"]) == {"slid"}
    assert table["reference"].notna().all()
    assert not table["reference_agrees"].astype(bool).any()
    assert seen[-1].disagree == 2 * DRAWS
    for name in ("stability", "progress"):
        assert table[name].equals(serial.table()[name])  # not replaced by it


def test_what_the_compiled_engine_cannot_run_runs_in_the_reference_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cannot(*_: object) -> None:
        raise EngineError("a wheel is out of balance")

    find = '[find]\nlow = "2 deg"\nhigh = "8 deg"\nscan = "3 deg"\ntolerance = "3 deg"\n'
    for name, more in (("runs", ""), ("limits", find)):
        study = cheap_study(tmp_path, 1, "", more)
        asked = sweep(study, tmp_path / f"{name}-asked", engine="mujoco", workers=1).table()
        with monkeypatch.context() as patch:
            patch.setattr(compiled, "_grown", cannot)
            found = sweep(study, tmp_path / name, workers=1)
        table = found.table()
        assert set(table["engine"]) == {"mujoco"}
        assert table["warnings"].str.contains("a wheel is out of balance").all()
        assert table["problem"].isna().all()
        apart = ("engine", "strip_engine", "warnings", "near")
        mine = [column for column in asked if column not in apart]
        assert table[mine].equals(asked[mine])
        report = summary(Found(study, found, Progress(2)))
        assert report["in_reference_only"] == 2


def test_a_limit_for_every_case(tmp_path: Path) -> None:
    friction = '"ground.friction" = { low = 0.6, high = 0.8 }\n'
    find = (
        '[find]\nuntil = ["lifted", "overturned"]\nlow = "2 deg"\nhigh = "26 deg"\n'
        'scan = "4 deg"\ntolerance = "1 deg"\n'
    )
    study = cheap_study(tmp_path, 2, friction, find)
    results = sweep(study, tmp_path / "out", engine="compiled", workers=1)
    table = results.table()
    assert len(table) == 4
    row = table.iloc[0]
    values = {"low": 2.0, "high": 26.0, "scan": 4.0, "tolerance": 1.0}
    strip = take_strip(
        results.case(row), engine="compiled", until=("lifted", "overturned"),
        **{name: radians(value) for name, value in values.items()},
    )  # fmt: skip
    for event in ("lifted", "overturned"):
        limit = strip.to_dict()["events"][event]
        for end in ("good_up_to", "first_bad", "unknown_from"):
            got = row[f"{event}_{end}_deg"]
            assert got == limit[end] or (limit[end] is None and pd.isna(got))
        assert json.loads(row[f"{event}_good_again"]) == limit["good_again"]
    assert row["strip_runs"] == strip.runs
    bands = json.loads(row["strip_bands"])
    assert bands[0][0] == row["tried_from_deg"] == degrees(strip.spots[0].value)
    assert bands[-1][1] == row["tried_to_deg"]
    assert row["stability"] and row["peak_roll_deg"]  # of the run at its own slope, beside it
    assert 10.0 < row["rigid_lift_off_slope_deg"] < 40.0
    assert row["compliant_lift_off_slope_deg"] < row["rigid_lift_off_slope_deg"] + 1.0
    assert results.study.find == study.find


def test_chunks_do_not_depend_on_the_workers(cheap: Study) -> None:
    agenda = Agenda(cheap, task.ask("compiled"))
    assert (agenda.count, agenda.per_chunk, agenda.chunks) == (60, 4, 15)
    assert [agenda.rows_of(k) for k in (0, 14)] == [4, 4]


@pytest.mark.parametrize("find", [None, {"until": "lifted"}])
@pytest.mark.parametrize("n", [1, 1000, 400_000, 10_000_000])
def test_parts_are_larger_as_a_study_grows(n: int, find: dict[str, str] | None) -> None:
    vary = {"ground.friction": {"low": 0.5, "high": 0.9}}
    study = make_study("bramble", "bank-plain", vary=vary, find=find,
                       sample={"method": "latin", "n": n})  # fmt: skip
    agenda = Agenda(study, task.ask("compiled"))
    assert agenda.chunks <= 2000
    assert sum(agenda.rows_of(k) for k in range(agenda.chunks)) == agenda.count == n
