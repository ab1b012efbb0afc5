"""Same case, same bytes: whatever the chunks, repeats, snapshots and files in between."""

from pathlib import Path

import numpy as np
import pytest

from sidehill.case import Case
from sidehill.engines import here, open_engine
from sidehill.files.errors import InputError
from sidehill.flat import flatten
from sidehill.kernels.layout import DRIVE, RUNNING
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.record import load_record, save_record, simulate
from sidehill.scenario.file import load_scenario


@pytest.fixture
def case() -> Case:
    return Case(load_machine("bramble"), load_scenario("bank-stone"), Outfit(bucket_load="250 kg"))


@pytest.mark.parametrize("engine", here())
def test_two_runs_write_the_same_bytes(case: Case, engine: str, tmp_path: Path) -> None:
    for name in ("a", "b"):
        save_record(simulate(case, engine), tmp_path / name)
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


@pytest.mark.parametrize("engine", here())
def test_chunks_do_not_matter(case: Case, engine: str) -> None:
    flat = flatten(case)
    ends = []
    for chunk in (3000, 70):
        with open_engine(engine, flat) as opened:
            state, rows = opened.init(), flat.rows()
            while state["finish"][0] == RUNNING:
                opened.advance(state, rows, chunk)
        ends.append(state)
    assert np.array_equal(*(end.view(float) for end in ends))


@pytest.mark.parametrize("engine", here())
def test_a_copy_of_the_state_is_a_snapshot(case: Case, engine: str) -> None:
    """Going back to it in another engine object gives the same run to rounding."""
    flat = flatten(case)
    with open_engine(engine, flat) as first, open_engine(engine, flat) as second:
        state, rows = first.init(), flat.rows()
        first.advance(state, rows, 10_000)
        state["stage"], state["finish"], state["step"] = DRIVE, 0, 0
        first.advance(state, rows, 500)
        kept = state.copy()
        first.advance(state, rows, 500)
        second.advance(kept, rows, 500)
    assert state["step"] == kept["step"]
    assert kept["roll"][0] == pytest.approx(state["roll"][0], abs=1e-9)


def test_a_record_survives_its_file(case: Case, tmp_path: Path) -> None:
    record = simulate(case, "mujoco")
    save_record(record, tmp_path / "run.parquet")
    back = load_record(tmp_path / "run.parquet")
    assert back.meta == record.meta
    assert np.array_equal(back.state, record.state)
    assert all(np.array_equal(back.columns[k], record.columns[k]) for k in record.columns)


def test_a_record_cut_short_is_refused(case: Case, tmp_path: Path) -> None:
    path = tmp_path / "run.parquet"
    save_record(simulate(case, "mujoco"), path)
    path.write_bytes(path.read_bytes()[:-200])
    with pytest.raises(InputError, match=r"run\.parquet: not a record"):
        load_record(path)


def test_keys_know_every_part_of_a_case(case: Case) -> None:
    other = Case(case.machine, case.scenario, Outfit(bucket_load="251 kg"))
    assert case.key() != other.key()
    assert case.key() != case.with_slope(0.1).key()
    assert case.key() == case.with_slope(case.scenario.ground.slope).key()
