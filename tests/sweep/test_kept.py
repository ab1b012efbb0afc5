"""What was run once is read; what cannot be read, or is another case's, is run again."""

from pathlib import Path

import numpy as np

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario
from sidehill.sweep.kept import kept_records

CASES = {
    name: Case(load_machine("bramble"), load_scenario("bank-plain", ("course.length=2 m",)), outfit)
    for name, outfit in (("narrow", Outfit()), ("wide", Outfit(rear_spacer="76 mm")))
}


def test_only_what_is_missing_is_run(tmp_path: Path) -> None:
    said: list[str] = []
    first = kept_records(CASES, "mujoco", tmp_path, said.append)
    assert said == ["driving narrow in mujoco", "driving wide in mujoco"]
    assert [record.meta["key"] for record in first] == [case.key() for case in CASES.values()]
    again = kept_records(CASES, "mujoco", tmp_path, said.append)
    assert len(said) == 2
    for old, new in zip(first, again, strict=True):
        assert np.array_equal(old.columns["roll_slope_deg"], new.columns["roll_slope_deg"])
    kept_records(CASES, "compiled", tmp_path, said.append)
    assert len(said) == 4, "a record belongs to its engine"


def test_what_cannot_be_used_is_run_again(tmp_path: Path) -> None:
    said: list[str] = []
    kept_records(CASES, "mujoco", tmp_path, said.append)
    narrow, wide = (tmp_path / f"{case.key()}-mujoco.parquet" for case in CASES.values())
    whole = wide.read_bytes()
    wide.write_bytes(whole[: len(whole) // 2])
    narrow.write_bytes(whole)
    records = kept_records(CASES, "mujoco", tmp_path, said.append)
    assert said[2:] == ["driving narrow in mujoco", "driving wide in mujoco"]
    assert [record.meta["key"] for record in records] == [case.key() for case in CASES.values()]
    assert wide.read_bytes() == whole
