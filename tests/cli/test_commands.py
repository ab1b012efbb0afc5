"""What the commands answer, for people and as JSON."""

import json
import subprocess
import sys
from math import ceil, floor, radians
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from cli.runner import answer, process, run

from sidehill.caution import CAUTION
from sidehill.files import library
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run.outcome import FALLS
from sidehill.run.record import load_record
from sidehill.statics.report import tip

WHEELS = ["front_left", "front_right", "rear_left", "rear_right"]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_list_names_what_is_shipped() -> None:
    found = answer("list")
    files = sorted(path.stem for path in library.folder("machine").glob("*.toml"))
    assert list(found["machines"]) == files
    assert {"bramble", "hawthorn", "sorrel"} <= set(files)
    assert {"bank-plain", "bank-rut", "bank-stone", "tilt-table"} <= set(found["scenarios"])
    assert "demo" in found["studies"]
    assert found["caution"] == CAUTION


def test_tip_answers_what_the_statics_say() -> None:
    line = 'tip bramble --rear-spacer "3 in" --bucket-load "250 kg" --slope "25 %" --grade "2 deg"'
    found = answer(line)
    fitted = fit(load_machine("bramble"), Outfit(rear_spacer="3 in", bucket_load="250 kg"))
    expected = tip(fitted, slope=radians(14.036243467926479), grade=radians(2.0)).to_dict()
    for name, value in expected.items():
        if name != "notes":
            assert found[name] == pytest.approx(value), name
    assert set(expected["notes"]) == {*found["notes"], *fitted.warnings}
    assert set(fitted.warnings) <= set(found["warnings"])


def test_tip_turned_round_shows_us_units_first() -> None:
    metric = run("tip bramble").stdout
    us = run("tip bramble --units us").stdout
    assert "1,355 kg (2,988 lb)" in metric
    assert "2,988 lb (1,355 kg)" in us


def test_tip_rounds_to_the_careful_side() -> None:
    found, said = answer("tip bramble"), run("tip bramble").stdout
    slopes = [value for name, value in found.items() if name.endswith("_slope_deg")]
    loads = list(found["wheel_loads_n"].values())
    assert any(round(slope, 1) > slope for slope in slopes)  # so that rounding matters here
    assert any(round(load) < load for load in loads)
    for slope in slopes:  # thresholds go down
        assert f"{floor(10.0 * slope) / 10.0:.1f} deg" in said
    for load in loads:  # loads go up
        assert f"{ceil(load):,} N" in said


def test_past_lift_off_nothing_is_made_up() -> None:
    found = answer('tip bramble --bucket-load "250 kg" --bucket-height full --slope "20 deg"')
    assert found["wheel_loads_n"] is None
    assert found["energy_to_tip_j"] is None
    said = run('tip bramble --bucket-load "250 kg" --bucket-height full --slope "20 deg"').stdout
    assert said.count("not computed") == 3


def test_tip_on_compliant_tyres_leaves_out_what_only_rigid_ones_give() -> None:
    line = 'tip bramble --tyres compliant --slope "10 deg" '
    soft, rigid = answer(line), answer('tip bramble --slope "10 deg"')
    assert soft["lift_off_slope_deg"] < rigid["lift_off_slope_deg"]
    assert soft["comes_back_slope_deg"] < soft["lift_off_slope_deg"]
    assert soft["overturn_slope_deg"] is None
    assert any("goes over with `limit`" in note for note in soft["notes"])
    assert list(soft["wheel_loads_n"]) == WHEELS
    total = sum(soft["wheel_loads_n"].values())
    assert total == pytest.approx(sum(rigid["wheel_loads_n"].values()), rel=1e-5)
    assert answer('tip bramble --tyres compliant --slope "45 deg"')["wheel_loads_n"] is None


def test_urdf_goes_to_standard_output_or_to_a_file(folder: Path) -> None:
    text = run("urdf bramble").stdout
    assert ET.fromstring(text).get("name") == "Bramble"
    found = answer("urdf bramble -o out.urdf")
    assert (folder / "out.urdf").read_text(encoding="ascii") == text
    masses = [float(item.get("value", "nan")) for item in ET.fromstring(text).iter("mass")]
    assert sum(masses) == pytest.approx(found["mass_kg"], rel=1e-6)


def test_drive_answers_what_its_record_holds(folder: Path) -> None:
    line = 'drive bramble bank-stone --bucket-load "250 kg" --engine mujoco --out out'
    found = answer(line)
    names = ["stability", "progress", "met", "why", "peak_roll_deg", "spells", "min_load_n"]
    names += ["peak_load_n", "stop_hits", "final_rest_deg", "engine", "sim_s", "wall_s", "case"]
    assert set(names) <= set(found)
    assert found["engine"] == "mujoco"
    assert (found["fall"], found["final_rest_deg"], found["touched"]) == ("", None, [])
    assert any("the front tyre meets it over" in note for note in found["notes"])
    assert list(found["peak_load_n"]) == WHEELS
    assert found["files"] == ["out/record.parquet", "out/record.png"]
    assert sorted(path.name for path in (folder / "out").iterdir()) == [
        "record.parquet",
        "record.png",
    ]
    record = load_record(folder / "out" / "record.parquet")
    assert record.meta["key"] == found["case"]
    roll = record.columns["roll_slope_deg"]
    rolled = float(roll[abs(roll).argmax()])
    assert rolled == pytest.approx(found["peak_roll_deg"], abs=0.05)  # rows are 10 steps apart
    assert found["spells"][0]["wheel"] in WHEELS
    said = run(line).stdout
    assert f"stability  {found['stability']}" in said
    assert f"progress   {found['progress']}" in said
    assert found["why"][:40] in said
    assert f"case {found['case']}" in said
    assert CAUTION.split(";")[0] in said


def test_a_fall_is_told_as_illustrative(folder: Path) -> None:
    line = 'drive sorrel wet-grass --bucket-load "108 kg" --engine mujoco --out out'
    found = answer(line)
    assert (found["stability"], found["progress"]) == ("overturned", "over")
    assert found["fall"] in FALLS.values()
    assert (found["final_rest_deg"] is None) == (found["fall"] != "rests")
    assert len(found["touched"]) > 0
    (told,) = (line for line in run(line).stdout.splitlines() if "(illustrative)" in line)
    assert f"{found['fall']}" in told and ", ".join(found["touched"]) in told


def test_a_machine_that_does_not_stand_is_never_shown_as_good(folder: Path) -> None:
    line = (
        'drive bramble bank-plain --bucket-load "250 kg" --bucket-height full '
        '--set ground.slope="30 deg" --engine mujoco --out out'
    )
    found = answer(line)
    assert (found["stability"], found["progress"]) == ("overturned", "not_started")
    assert found["met"] is False
    said = run(line).stdout
    assert "it cannot stand there on four wheels; it goes over" in said


def test_a_tilt_table_reports_slopes_and_no_facts() -> None:
    found = answer("drive sorrel tilt-table --engine mujoco --out out")
    assert "stability" not in found
    assert found["went_over"] is True
    assert found["problem"] is None
    assert found["lift_off_slope_deg"] < found["on_stop_slope_deg"]
    unfinished = answer(
        'drive sorrel tilt-table --set ground.slope="20 deg" --engine mujoco --out out'
    )
    assert unfinished["lift_off_slope_deg"] is None
    assert unfinished["went_over"] is False


def test_a_real_process_writes_json_alone(folder: Path) -> None:
    done = process("drive sorrel bank-plain --engine mujoco --json", folder)
    assert done.returncode == 0
    assert all(line.startswith("WARNING: ") for line in done.stderr.splitlines())  # no progress
    assert json.loads(done.stdout)["engine"] == "mujoco"
    assert (folder / "sidehill-drive" / "record.parquet").is_file()


def test_the_default_engine_is_named() -> None:
    assert answer("drive sorrel bank-plain --engine auto")["engine"] in ("pybullet", "mujoco")


def test_the_law_of_the_tyres_is_asked_for_and_told() -> None:
    """The same stone: another case, a lower peak, and the default is told."""
    stone = 'bramble bank-stone --engine compiled --bucket-load "250 kg"'
    point, enveloping = (answer(f"drive {stone} --tyre {law}") for law in ("point", "enveloping"))
    usual = answer(f"drive {stone}")
    assert point["peak_roll_deg"] == usual["peak_roll_deg"]
    assert enveloping["peak_roll_deg"] < point["peak_roll_deg"] - 0.05
    assert point["case"] != enveloping["case"]
    assert "run.tyre = point" in usual["defaults"]
    assert run(f"drive {stone} --tyre soft").exit_code == 2


def test_six_psi_is_an_option_and_its_stiffness_is_told() -> None:
    soft = answer('tip bramble --tyres compliant --rear-pressure "6 psi"')
    usual = answer("tip bramble --tyres compliant")
    assert any("41 kPa (6 psi)" in note for note in soft["notes"])
    assert 0.2 < usual["lift_off_slope_deg"] - soft["lift_off_slope_deg"] < 2.0


def test_a_command_that_runs_nothing_loads_no_compiler() -> None:
    """What takes a second to load is loaded once it is asked for."""
    heavy = {"numba", "scipy", "pandas", "matplotlib", "PIL"}
    look = f"import sys, sidehill.cli.main; print({heavy} & set(sys.modules))"
    shown = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "set()"
