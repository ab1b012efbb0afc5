"""What goes wrong in a sweep: recorded, refused or gone on with; nothing lost, nothing mixed."""

import errno
import os
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import Executor, Future
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from sweep.cheap import cheap_study
from sweep.conftest import DRAWS
from sweep.stop import Stop

from sidehill.files import whole
from sidehill.files.errors import InputError, SidehillError
from sidehill.study.study import Study
from sidehill.sweep import folder as folders
from sidehill.sweep import run_row, task
from sidehill.sweep.progress import Progress
from sidehill.sweep.results import Results, load_results
from sidehill.sweep.run_study import run_study as sweep


def test_an_unreadable_part_is_set_aside_and_run_again(
    cheap: Study, serial: Results, tmp_path: Path
) -> None:
    with pytest.raises(KeyboardInterrupt):
        sweep(cheap, tmp_path, engine="compiled", executor=Stop(after=6), workers=1)
    first, second = sorted((tmp_path / folders.PARTS).glob("*.parquet"))[:2]
    damaged = bytearray(first.read_bytes())
    damaged[len(damaged) // 3] ^= 0xFF
    first.write_bytes(damaged)
    second.write_bytes(second.read_bytes()[:300])
    found = sweep(cheap, tmp_path, engine="compiled", workers=1)
    assert found.file.read_bytes() == serial.file.read_bytes()
    assert [note.partition(": ")[2] for note in found.notes] == [
        "could not be read, so its cases are run again"
    ] * 2
    for path in (first, second):
        assert path.with_name(path.name + ".unreadable").exists()


def test_nothing_else_is_mixed_in(
    cheap: Study, serial: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = {path: path.read_bytes() for path in serial.folder.iterdir()}
    other = cheap_study(tmp_path, DRAWS + 1)
    refusals = [(other, "compiled", "holds another study"), (cheap, "mujoco", "in compiled, not")]
    for asked, engine, words in refusals:
        with pytest.raises(InputError, match=words):
            sweep(asked, serial.folder, engine=engine, workers=1)
    for module in ("agenda", "same"):
        monkeypatch.setattr(f"sidehill.sweep.{module}.ROW_VERSION", "another")
    with pytest.raises(InputError, match=r"version .* of the physics; this is another"):
        sweep(cheap, serial.folder, engine="compiled", workers=1)
    assert {path: path.read_bytes() for path in before} == before


def test_the_physics_of_parts_is_not_mixed_either(
    cheap: Study, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(KeyboardInterrupt):
        sweep(cheap, tmp_path, engine="compiled", executor=Stop(after=3), workers=1)
    for module in ("agenda", "same"):
        monkeypatch.setattr(f"sidehill.sweep.{module}.ROW_VERSION", "another")
    with pytest.raises(InputError, match="the two are not mixed"):
        sweep(cheap, tmp_path, engine="compiled", workers=1)


def test_a_worker_with_other_physics_is_refused(
    cheap: Study, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(task, "ROW_VERSION", "another")
    with pytest.raises(SidehillError, match="a worker has version another of the physics"):
        sweep(cheap, tmp_path, engine="compiled", workers=1)


def test_a_folder_of_something_else_is_left_alone(cheap: Study, tmp_path: Path) -> None:
    (tmp_path / "results.parquet").write_bytes(b"mine")
    with pytest.raises(InputError, match=r"has results.parquet but no study.json"):
        sweep(cheap, tmp_path, engine="compiled", workers=1)
    assert (tmp_path / "results.parquet").read_bytes() == b"mine"
    file = tmp_path / "file"
    file.write_bytes(b"")
    with pytest.raises(InputError, match="cannot be written to as a folder"):
        sweep(cheap, file, engine="compiled", workers=1)
    with pytest.raises(InputError, match="no results of a sweep"):
        load_results(tmp_path / "nowhere")


def test_a_damaged_table_is_named_and_kept(cheap: Study, serial: Results, tmp_path: Path) -> None:
    for path in serial.folder.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    table = tmp_path / folders.TABLE
    table.write_bytes(table.read_bytes()[:2000])
    with pytest.raises(
        InputError, match=r"results.parquet: cannot be read, or is not as it was written; nothing"
    ):
        sweep(cheap, tmp_path, engine="compiled", workers=1)
    assert len(table.read_bytes()) == 2000


@pytest.mark.parametrize("error", [SidehillError("no such wheel"), ZeroDivisionError("by nothing")])
def test_a_case_that_raises_is_a_row(
    cheap: Study, error: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = run_row.run

    def fail(case: Any, engine: str) -> Any:
        if case.outfit.bucket_height == "full":
            raise error
        return real(case, engine)

    monkeypatch.setattr(run_row, "run", fail)
    seen: list[Progress] = []
    table = sweep(cheap, tmp_path, engine="compiled", workers=1, watch=seen.append).table()
    high = table["option"] == "high"
    assert table["problem"][high].str.contains(str(error)).all()
    assert table["stability"][high].isna().all() and table["peak_roll_deg"][high].isna().all()
    assert table["case"].notna().all()
    assert table["problem"][~high].isna().all()
    assert seen[-1].counts["not computed"] == DRAWS


@pytest.mark.parametrize("times", [2, 1000])
def test_a_worker_out_of_memory_is_asked_again_and_only_then_is_it_a_row(
    times: int, cheap: Study, serial: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, victim, left = run_row.run, serial.table()["case"][5], [times]

    def short(case: Any, engine: str) -> Any:
        if case.key() == victim and left[0] > 0:
            left[0] -= 1
            raise MemoryError("no room for an array")
        return real(case, engine)

    monkeypatch.setattr(run_row, "run", short)
    table = sweep(cheap, tmp_path, engine="compiled", workers=1).table()
    if times == 2:  # in its chunk and in its chunk alone; then it runs
        assert table.equals(serial.table())
        return
    assert "its process failed 2 times: MemoryError" in table["problem"][5]
    pd.testing.assert_frame_equal(  # a hole turns counts into numbers with a point
        table.drop(index=5), serial.table().drop(index=5), check_dtype=False
    )


def test_values_that_a_model_refuses_are_rows_with_their_reason(tmp_path: Path) -> None:
    study = cheap_study(tmp_path, 8, '"ground.friction" = { mean = 0.1, spread = 0.2 }\n')
    table = sweep(study, tmp_path / "out", engine="compiled", workers=1).table()
    refused = table["ground.friction"] < 0.0
    assert refused.any()
    assert table["problem"][refused].str.contains("not plausible").all()
    assert table["case"][refused].isna().all()
    assert table["problem"][~refused].isna().all()


def test_a_case_that_kills_its_worker_is_recorded_and_the_others_go_on(
    cheap: Study, serial: Results, tmp_path: Path
) -> None:
    """A script of its own, since the poison must be in the workers as well."""
    script = Path(__file__).with_name("poisoned.py")
    table = serial.table()
    victim = int(table.index[table["option"] == "high"][7])
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    environment["POISONED_CASE"] = table["case"][victim]
    done = subprocess.run(
        [sys.executable, script, cheap.file, tmp_path / "out"],
        env=environment, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = load_results(tmp_path / "out").table()
    assert "its process failed 2 times" in found["problem"][victim]
    assert pd.isna(found["stability"][victim])
    assert found["case"][victim] == table["case"][victim]
    pd.testing.assert_frame_equal(
        found.drop(index=victim), table.drop(index=victim), check_dtype=False
    )


def test_a_broken_executor_that_was_given_is_named(cheap: Study, tmp_path: Path) -> None:
    from concurrent.futures.process import BrokenProcessPool

    class Broken(Executor):
        def submit(self, *_: Any, **__: Any) -> "Future[Any]":  # type: ignore[override]
            raise BrokenProcessPool("gone")

    with pytest.raises(SidehillError, match="the executor broke"):
        sweep(cheap, tmp_path, engine="compiled", executor=Broken(), workers=1)


def test_two_sweeps_in_one_folder(cheap: Study, tmp_path: Path) -> None:
    from sidehill.sweep.lock import locked

    with (
        locked(tmp_path),
        pytest.raises(InputError, match=f"another sweep is at work here .process {os.getpid()}."),
    ):
        sweep(cheap, tmp_path, engine="compiled", workers=1)
    (tmp_path / ".lock").write_text("1")  # left by a process that is dead
    with locked(tmp_path):
        pass


def test_a_full_disk_stops_it_and_keeps_what_there_is(
    cheap: Study, serial: Results, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    left = iter(range(5))

    def fsync(_: int) -> None:
        if next(left, None) is None:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(whole.os, "fsync", fsync)
    with pytest.raises(SidehillError, match=r"No space left on device.*goes on from there"):
        sweep(cheap, tmp_path, engine="compiled", workers=1)
    monkeypatch.undo()
    parts = list((tmp_path / folders.PARTS).iterdir())
    assert len(parts) == 3  # besides the dictionary and the plan
    assert all(path.suffix == ".parquet" for path in parts)
    found = sweep(cheap, tmp_path, engine="compiled", workers=1)
    assert found.file.read_bytes() == serial.file.read_bytes()
    assert not found.notes


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 48 kB."""
    disk = tmp_path / "disk"
    disk.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=48k", "tmpfs", disk], capture_output=True, check=False
    )
    if made.returncode:
        pytest.skip("a file system cannot be mounted here")
    yield disk
    subprocess.run(["umount", disk], check=True)


def test_a_small_file_system_that_fills_up(cheap: Study, serial: Results, small_disk: Path) -> None:
    out = small_disk / "out"
    for _ in range(2):  # again, while there still is no room
        with pytest.raises(SidehillError, match="No space left on device"):
            sweep(cheap, out, engine="compiled", workers=1)
    parts = list((out / folders.PARTS).iterdir())
    assert parts and all(path.suffix == ".parquet" for path in parts)
    subprocess.run(["mount", "-o", "remount,size=4m", small_disk], check=True)
    found = sweep(cheap, out, engine="compiled", workers=1)
    assert found.file.read_bytes() == serial.file.read_bytes()
    assert not found.notes
