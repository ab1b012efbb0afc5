"""The published tractor of the narrow-tractor roll example goes through every command.

Its geometry is that of OECD Code 6 / EU 1322/2014 Annex IX (values from memory); tyre
stiffness is from the usual range (memory) and marked so in the file.
"""

from pathlib import Path
from xml.etree import ElementTree

import pytest
from cli.runner import answer

TRACTOR = str(Path(__file__).parent.parent / "machine" / "data" / "code6.toml")


def test_tip_gives_the_published_lift_off() -> None:
    tip = answer(f"tip {TRACTOR} --operator '0 kg'")
    assert tip["lift_off_slope_deg"] == pytest.approx(28.910, abs=0.01)


def test_urdf_is_written(tmp_path: Path) -> None:
    out = tmp_path / "tractor.urdf"
    answer(f"urdf {TRACTOR} -o {out}")
    assert ElementTree.parse(out).getroot().tag == "robot"


def test_it_drives_and_has_a_limit(tmp_path: Path) -> None:
    drive = f"drive {TRACTOR} bank-stone --engine mujoco --out {tmp_path}"
    run = answer(f"{drive} --set 'ground.slope=5 deg'")
    assert run["verdict"] in ("crossed", "wheel_lifted")
    limit = answer(
        f"limit {TRACTOR} bank-stone --of slope --engine mujoco --scan '5 deg' --tolerance '1 deg'"
    )
    assert limit["events"]["overturned"]["good_up_to"] is not None
