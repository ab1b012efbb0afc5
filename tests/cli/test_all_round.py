"""Lift-off all round from the command line: picture, table, JSON; and what does not stand."""

import csv
from pathlib import Path

import numpy as np
import pytest
from cli.runner import answer, run
from statics import equilibrium

from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.statics.assembly import from_fitted


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_table_is_that_of_equilibrium_equations(folder: Path) -> None:
    found = answer('tip bramble --bucket-load "250 kg" --out round.csv')
    tipping = from_fitted(fit(load_machine("bramble"), Outfit(bucket_load="250 kg")))
    rows = found["all_round"]
    assert [row["direction_deg"] for row in rows] == [5.0 * k for k in range(72)]
    for row in rows[::5]:
        expected, loads = equilibrium.round_lift_off(tipping, np.radians(row["direction_deg"]))
        assert row["lift_off_slope_deg"] == pytest.approx(np.degrees(expected), abs=1e-9)
        wheel = equilibrium.WHEELS[int(np.argmin(loads))].replace(" ", "_")
        assert row["lifts_first"] in (wheel, f"both_{wheel.split('_')[0]}")
    with (folder / "round.csv").open(encoding="utf-8") as file:
        written = list(csv.DictReader(file))
    assert [float(row["lift_off_slope_deg"]) for row in written] == [
        row["lift_off_slope_deg"] for row in rows
    ]
    assert found["table"] == "round.csv"
    assert rows[18]["lift_off_slope_deg"] == pytest.approx(found["lift_off_slope_deg"])
    assert found["lifts_first"] == "rear_left"


@pytest.mark.parametrize("tyres", ["rigid", "compliant"])
@pytest.mark.parametrize(
    ("outfit", "words"),
    [
        ('--bucket-load "1500 kg"', "it tips forward"),
        ('--rear-ballast "2000 kg"', "it tips backward"),
    ],
)
def test_a_machine_that_does_not_stand_is_told_plainly(
    folder: Path, outfit: str, words: str, tyres: str
) -> None:
    line = f"tip bramble {outfit} --tyres {tyres} --picture round.png --out round.csv"
    result = run(line)
    assert result.exit_code == 0, result.output
    assert f"DOES NOT STAND THERE: CG not {'behind' if 'forward' in words else 'ahead'}" in (
        result.stdout
    )
    found = answer(line)
    assert words in found["flaws"][0]
    assert found["lift_off_slope_deg"] is None
    assert found["wheel_loads_n"] is None
    assert {row["lift_off_slope_deg"] for row in found["all_round"]} == {None}
    assert (folder / "round.png").stat().st_size > 1000


def test_a_table_goes_to_a_csv_only() -> None:
    result = run("tip bramble --out round.txt")
    assert result.exit_code == 2
    assert "must end in .csv" in result.stderr
