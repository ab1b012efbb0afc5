"""The narrow tractor of OECD Code 6 / EU 1322/2014 Annex IX (values from memory), by command."""

from math import degrees
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from cli.runner import answer, run
from machine.fixtures import CODE6
from start import crabbed_lift_off

from sidehill.case import Case
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

NOBODY = '--operator "0 kg"'


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_tip_gives_the_closed_forms() -> None:
    # lift-off 28.910, rigid four-wheel atan(S / 2 / H1) 36.190: derived from that geometry
    found = answer(f"tip {CODE6} {NOBODY}")
    assert found["lift_off_slope_deg"] == pytest.approx(28.910, abs=0.01)
    assert found["rigid_slope_deg"] == pytest.approx(36.190, abs=0.01)
    assert found["mass_kg"] == pytest.approx(2565.0)


def test_urdf_drive_and_limit() -> None:
    assert ET.fromstring(run(f"urdf {CODE6} {NOBODY}").stdout).tag == "robot"
    driven = answer(f"drive {CODE6} bank-plain {NOBODY} --engine mujoco --out out")
    assert driven["progress"] == "across"
    found = answer(
        f'limit {CODE6} bank-plain {NOBODY} --scan "4 deg" --tolerance "0.5 deg" --engine mujoco'
    )
    # driven it crabs, and so stands a little steeper than at rest, heading along the slope
    at = load_scenario("bank-plain", ("ground.slope=25 deg",))
    lift_off = crabbed_lift_off(Case(load_machine(CODE6), at, Outfit(operator="0 kg")))
    assert 0.0 < found["events"]["lifted"]["good_up_to"] < degrees(lift_off)
