"""Machine files: what is read, and that each bad one is refused in words one can act on."""

import math
import re
from pathlib import Path
from typing import Any

import pytest

from sidehill.files.errors import InputError
from sidehill.files.library import find, shipped
from sidehill.files.spec import build, defaults_used
from sidehill.files.toml import Document
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.weigh import read_scales

BRAMBLE = find("machine", "bramble").read_text(encoding="utf-8")


def edited(folder: Path, old: str, new: str, table: str) -> tuple[Path, int]:
    """Bramble with the first `old` after a table's header replaced; path, and the line."""
    start = BRAMBLE.index(f"\n{table}") if table else 0
    at = BRAMBLE.index(old, start)
    path = folder / "mine.toml"
    path.write_text(BRAMBLE[:at] + new + BRAMBLE[at + len(old) :], encoding="utf-8")
    return path, BRAMBLE[:at].count("\n") + 1


def test_values_are_si() -> None:
    machine = load_machine("bramble")
    assert machine.weighed.mass == pytest.approx(990.0)
    assert machine.front_axle.swing == pytest.approx(math.radians(10.0))
    assert machine.rear_tyre.stiffness == pytest.approx(220e3)
    assert machine.loader is not None
    assert machine.loader.frame_cg == pytest.approx((1.10, 0.80))
    assert machine.file == "bramble"


@pytest.mark.parametrize(("name", "mass"), [("sorrel", 650), ("bramble", 1000), ("hawthorn", 1800)])
def test_three_are_of_their_class(name: str, mass: float) -> None:
    assert load_machine(name).weighed.mass == pytest.approx(mass, rel=0.02)


@pytest.mark.parametrize("name", shipped("machine"))
def test_shipped_machines_are_invented_and_lack_nothing(name: str) -> None:
    """Tests over all of them load the bucket, fold the roll bar and rate the axles."""
    machine = load_machine(name)
    assert machine.source == "invented"
    for table in ("loader", "rops", "limits", "ballast", "attachment"):
        assert getattr(machine, table), f"{name} lacks [{table}]"
    assert machine.ballast.rear_box and machine.ballast.front
    # common practice: 20 % of the mass on the front axle at least, to steer
    assert machine.weighed.front_axle > 0.2 * machine.weighed.mass


@pytest.mark.parametrize(
    "changes",
    [
        {"weighed": {"cg_height": "0.65 m"}},
        {"weighed": {"cg_height": 0.65}},
        {"weighed.cg_height": 0.65},
    ],
)
def test_changes_from_python_are_taken_and_checked(changes: dict[str, Any]) -> None:
    changed = load_machine("bramble", **changes)
    assert changed.weighed.cg_height == pytest.approx(0.65)
    assert changed.with_values({"weighed.cg_height": "0.60 m"}) == load_machine("bramble")
    assert changed.file == "bramble"
    for bad in (-3.0, "-3 m", "0.65", "3 kg"):
        with pytest.raises(InputError, match=r"weighed\.cg_height = .*allowed: a length from"):
            load_machine("bramble", weighed={"cg_height": bad})
    with pytest.raises(InputError, match='did you mean "cg_height"'):
        load_machine("bramble", weighed={"cg_hight": 0.6})


def test_a_copy_is_checked_where_it_differs() -> None:
    machine = load_machine("bramble")
    with pytest.raises(InputError, match="cg_height = -3"):
        machine.weighed.model_copy(update={"cg_height": -3.0})
    with pytest.raises(InputError, match="cg_height = -3"):
        machine.model_copy(update={"weighed": {**dict(machine.weighed), "cg_height": -3.0}})
    assert machine.model_copy() == machine


# table, text to replace, its replacement, field as named, value shown, what is said and allowed
BAD_VALUES = [
    ("[weighed]", '"0.60 m"', '"0.60 kg"', "weighed.cg_height", '"0.60 kg"', "give a length in m"),
    ("[weighed]", '"0.60 m"', "0.60", "weighed.cg_height", "0.6", "without a unit"),
    ("[weighed]", '"0.60 m"', '"-0.6 m"', "weighed.cg_height", '"-0.6 m"', "from 0.2 m to 2 m"),
    ("[weighed]", '"0.60 m"', '"60 m"', "weighed.cg_height", '"60 m"', "from 0.2 m to 2 m"),
    ("[weighed]", '"0.60 m"', '"nan m"', "weighed.cg_height", '"nan m"', "not a finite number"),
    ("[weighed]", '"0.60 m"', "inf", "weighed.cg_height", "Infinity", "not a finite number"),
    ("[weighed]", '"0.60 m"', "true", "weighed.cg_height", "true", "give a length in m"),
    ("[weighed]", '"estimated"', '"guessed"', "weighed.cg_height_from", '"guessed"', "'weighed'"),
    ("[weighed]", '"430 kg"', '"430 N"', "weighed.front_axle", '"430 N"', "give a mass in kg"),
    ("[front_axle]", '"130 kg"', '"48 kg"', "front_axle.mass", '"48 kg"', "over its two wheels"),
    ("[front_axle]", '"130 kg"', '"431 kg"', "front_axle.mass", '"431 kg"', "under weighed.front"),
    ("[front_axle]", '"0.42 m"', '"0.63 m"', "front_axle.pivot_height", '"0.63 m"', "below"),
    ("[front_axle]", '"0.33 m"', '"0.12 m"', "front_axle.cg_height", '"0.12 m"', "0.146 m to 0.5"),
    ("[front_axle]", '"10 deg"', '"10 %"', "front_axle.swing", '"10 %"', "give an angle in deg"),
    ("[front_axle]", '"10 deg"', '"40 deg"', "front_axle.swing", '"40 deg"', "0 deg to 25 deg"),
    ("[front_tyre]", '"0.36 m"', '"0.60 m"', "front_tyre.rim_diameter", '"0.60 m"', "under 95 %"),
    ("[front_tyre]", '"27 L"', '"70 L"', "front_tyre.volume", '"70 L"', "under its outline, 63 L"),
    ("[rear_tyre]", '"52 kg"', '"280 kg"', "rear_tyre.mass", '"280 kg"', "under weighed.rear_axle"),
    ("[rear_tyre]", "= 0.5\n", '= "0.5 m"\n', "rear_tyre.lateral_ratio", '"0.5 m"', "bare number"),
    ("[body]", '"1.62 m"', '"0.80 m"', "body.wheelbase", '"0.80 m"', "over 0.8 m"),
    ("[body]", '"2.6 m"', '"1.6 m"', "body.length", '"1.6 m"', "over 1.62 m"),
    (
        "[drive]",
        'driven = "four"',
        'driven = "front"',
        "drive.driven",
        '"front"',
        "'rear' or 'four'",
    ),
    ("[loader]", '"2.1 m"', '"2.8 m"', "loader.full_height", '"2.8 m"', "0.00 m and 2.70 m"),
    ("[loader]", '"2.1 m"', '"0.3 m"', "loader.carry_height", '"0.35 m"', "below full_height"),
    ("[loader]", '["1.10 m", "0.80 m"]', '["1 m"]', "loader.frame_cg.2", "", "a length from"),
    ("[loader]", '["1.10 m", "0.80 m"]', '["1 m", 3]', "loader.frame_cg.2", "3", "without a unit"),
    ("[rops]", '"1.5 m"', '"2.4 m"', "rops.folded_height", '"2.4 m"', "below height, 2.3 m"),
    ("[rops]", '"2.3 m"', '"0.9 m"', "rops.folded_height", '"1.5 m"', "below height, 0.9 m"),
    ("[[attachment]]", '"mid mower"', '"tiller"', "attachment.2.name", '"tiller"', "no other"),
    ("[[attachment]]", '"rear"', '"left"', "attachment.1.position", '"left"', "'rear', 'front'"),
    ("", '"Bramble"', '"Bram\\u001bble"', "name", '"Bram\\u001bble"', "control characters"),
    ("", '"Bramble"', '"Bram\\u202eble"', "name", '"Bram\\u202eble"', "control characters"),
    ("", '"Bramble"', f'"{"B" * 41}"', "name", '"BBB', "1 to 40 characters"),
    ("", '"Bramble"', '"  "', "name", '"  "', "1 to 40 characters"),
    ("", '"Bramble"', "3", "name", "3", "1 to 40 characters"),
]


@pytest.mark.parametrize(("table", "old", "new", "field", "value", "said"), BAD_VALUES)
def test_bad_value_is_refused(
    tmp_path: Path, table: str, old: str, new: str, field: str, value: str, said: str
) -> None:
    path, line = edited(tmp_path, old, new, table)
    with pytest.raises(InputError) as refusal:
        load_machine(path)
    message = str(refusal.value)
    assert message.startswith(f"{path}, line ")
    assert f": {field}" in message
    assert f"{field} = {value}" in message or not value
    assert said in message
    assert "allowed" in message or "needed" in message
    if new.strip("= \n")[:20] in message:  # the edited line is the one that is named
        assert f", line {line}: {field}" in message
    assert "Traceback" not in message and "pydantic" not in message


def test_tyres_that_touch_are_refused(tmp_path: Path) -> None:
    path, line = edited(tmp_path, 'width = "0.28 m"', 'width = "0.85 m"', "[rear_tyre]")
    path.write_text(path.read_text().replace('track = "1.00 m"', 'track = "0.80 m"'))
    said = f'{path}, line {line + 3}: rear_tyre.track = "0.80 m": tyres would touch; allowed: over'
    with pytest.raises(InputError) as refusal:
        load_machine(path)
    assert str(refusal.value).startswith(said)


def test_cg_below_the_tip_line_is_refused(tmp_path: Path) -> None:
    path, line = edited(tmp_path, '"0.60 m"', '"0.25 m"', "[weighed]")
    path.write_text(path.read_text().replace('pivot_height = "0.42 m"', 'pivot_height = "0.61 m"'))
    with pytest.raises(InputError) as refusal:
        load_machine(path)
    assert f'line {line}: weighed.cg_height = "0.25 m": below the line' in str(refusal.value)
    assert "allowed: over 0.26 m" in str(refusal.value)


def test_unknown_key_offers_the_nearest(tmp_path: Path) -> None:
    path, line = edited(tmp_path, "cg_height =", "cg_hieght =", "[weighed]")
    with pytest.raises(InputError) as refusal:
        load_machine(path)
    unknown, missing = sorted(str(refusal.value).splitlines(), key=lambda text: "missing" in text)
    assert (
        unknown == f'{path}, line {line}: weighed.cg_hieght: unknown key; did you mean "cg_height"?'
    )
    assert "weighed.cg_height: missing; needed: a length from 0.2 m to 2 m" in missing


def test_unknown_table_lists_what_is_known(tmp_path: Path) -> None:
    path, _ = edited(tmp_path, "[steering]", "[zzz]\na = 1\n[steering]", "")
    with pytest.raises(InputError, match=r"zzz: unknown key; known here: name, summary, source"):
        load_machine(path)


def test_missing_table_and_table_that_is_none(tmp_path: Path) -> None:
    path, _ = edited(tmp_path, '[steering]\nmax_angle = "45 deg"', "", "")
    with pytest.raises(InputError, match="steering: missing; needed: a table"):
        load_machine(path)
    path, _ = edited(tmp_path, '[steering]\nmax_angle = "45 deg"', "", "")
    path.write_text("steering = 3\n" + path.read_text())
    with pytest.raises(InputError, match=r"line 1: steering = 3: .*allowed: a table"):
        load_machine(path)


def test_many_problems_are_one_message_and_counted(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(re.sub(r'"([0-9.]+) kg"', r'"\1 m"', BRAMBLE))
    with pytest.raises(InputError) as refusal:
        load_machine(path)
    lines = str(refusal.value).splitlines()
    assert len(lines) == 7
    assert lines[0].startswith(f'{path}, line 7: weighed.front_axle = "430 m": "m" does not')
    assert re.fullmatch(r"and \d+ more problems", lines[-1])


def test_copy_with_changed_values() -> None:
    machine = load_machine("bramble")
    higher = machine.with_values({"weighed.cg_height": 0.66, "attachment.1.mass": "200 kg"})
    assert higher.weighed.cg_height == 0.66
    assert higher.attachment[0].mass == 200.0
    assert higher.file == machine.file
    assert higher.front_tyre == machine.front_tyre
    with pytest.raises(InputError, match="cg_hight: unknown key"):
        machine.with_values({"weighed.cg_hight": 0.66})
    with pytest.raises(InputError, match=r"weighed.cg_height = 5.0: .* from 0.2 m to 2 m"):
        machine.with_values({"weighed.cg_height": 5.0})


@pytest.mark.parametrize("name", shipped("machine"))
def test_plain_si_dump_reads_back(name: str) -> None:
    machine = load_machine(name)
    again = build(Machine, Document("record", machine.model_dump(mode="json")), si=True)
    assert again.model_dump() == machine.model_dump()


def test_defaults_that_were_used_are_listed_with_units() -> None:
    used = defaults_used(load_machine("sorrel"))
    assert "front_tyre.lateral_ratio = 0.5" in used
    assert "rear_tyre.damping_ratio = 0.05" in used
    assert not any(line.startswith("front_tyre.track") for line in used)
    readings = {"level_front": "400 kg", "level_rear": "700 kg", "raised_front": "380 kg"}
    readings |= {"tilt": "15 deg", "wheelbase": "1.5 m", "front_radius": "0.3 m"}
    scales = read_scales(readings | {"rear_radius": "0.5 m"}, "command line")
    assert "tilt_error = 0.2 deg" in defaults_used(scales)  # as people give it, not in radians
