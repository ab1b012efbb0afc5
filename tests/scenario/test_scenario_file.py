"""Scenario files: the whole language is read, and what cannot be driven is refused."""

import math
from pathlib import Path

import pytest

from sidehill.files.errors import InputError
from sidehill.files.library import shipped
from sidehill.files.spec import build, defaults_used
from sidehill.files.toml import Document
from sidehill.scenario.file import Scenario, load_scenario

FULL = """\
title = "Everything"
teaches = "that the whole language is read"

[ground]
slope = "10 deg"
grade = "-5 %"
downhill = "left"
friction = 0.7
rolling_resistance = 0.06
stiffness = "150 kN/m"
roughness = "C"
seed = 3
coherence = 0.6

[[feature]]
shape = "bump"
wheels = "uphill"
at = "5 m"
height = "100 mm"
length = "0.8 m"
width = "0.6 m"

[[feature]]
shape = "hole"
y = "-0.4 m"
at = "6 m"
height = "80 mm"
length = "0.8 m"
width = "0.6 m"

[[feature]]
shape = "ridge"
at = "7 m"
height = "50 mm"
length = "0.5 m"

[[feature]]
shape = "log"
at = "8 m"
height = "60 mm"

[[feature]]
shape = "kerb"
wheels = "both"
at = "8.5 m"
height = "60 mm"
length = "0.4 m"
width = "1 m"

[course]
path = "turn uphill"
length = "9 m"
radius = "4 m"
after = "3 m"

[drive]
speed = "5 km/h"
hold = "coast"
differential = "locked"
brake = { at = "7 m", wheels = "downhill" }

[loader]
height = [["0 m", "carry"], ["6 m", "1.2 m"], ["8 m", "full"]]

[run]
step = "0.5 ms"
rate = "100 Hz"
"""


@pytest.fixture
def full(tmp_path: Path) -> Path:
    path = tmp_path / "full.toml"
    path.write_text(FULL)
    return path


def test_the_whole_language(full: Path) -> None:
    scenario = load_scenario(full)
    ground, course = scenario.ground, scenario.course
    assert ground.slope == pytest.approx(math.radians(10.0))
    assert ground.grade == pytest.approx(-math.atan(0.05))
    assert (ground.downhill, ground.uphill) == ("left", -1.0)
    assert ground.compliance == pytest.approx(1.0 / 150e3)
    # ISO 8608 class C, geometric mean (published, secondary sources)
    assert ground.roughness == 256e-6
    assert [item.extent for item in scenario.feature] == pytest.approx([0.8, 0.8, 0.5, 0.12, 0.4])
    assert scenario.feature[1].y == -0.4
    assert (course.turn, course.radius, course.after) == (1.0, 4.0, 3.0)
    assert scenario.drive.speed == pytest.approx(5.0 / 3.6)
    assert scenario.drive.brake is not None
    assert (scenario.drive.brake.at, scenario.drive.brake.wheels) == (7.0, "downhill")
    assert scenario.loader is not None
    assert scenario.loader.height == ((0.0, "carry"), (6.0, 1.2), (8.0, "full"))
    assert scenario.run.steps_a_row == 20


def test_hard_smooth_ground_is_the_default() -> None:
    ground = load_scenario("bank-stone").ground
    assert (ground.stiffness, ground.compliance, ground.roughness) == ("hard", 0.0, 0.0)


@pytest.mark.parametrize("name", shipped("scenario"))
def test_shipped_scenarios_teach_and_read_back_from_a_dump(name: str) -> None:
    scenario = load_scenario(name)
    assert scenario.title and scenario.teaches and scenario.file == name
    again = build(Scenario, Document("record", scenario.model_dump(mode="json")), si=True)
    assert again.model_dump() == scenario.model_dump()


@pytest.mark.parametrize(
    "setting", ['ground.slope="18 deg"', "ground.slope=18 deg", "ground.slope = 32.492 %"]
)
def test_override(setting: str) -> None:
    scenario = load_scenario("bank-stone", [setting, "feature.1.height=80 mm"])
    assert scenario.ground.slope == pytest.approx(math.radians(18.0), abs=1e-5)
    assert scenario.feature[0].height == pytest.approx(0.08)
    assert scenario.feature[0].length == 0.8


BAD_SETTINGS = [
    ("ground.slop=18 deg", 'ground.slop: unknown key; did you mean "slope"?'),
    ("grund.slope=18 deg", 'grund: unknown key; did you mean "ground"?'),
    ("ground.slope=18", 'ground.slope = 18: a bare number, without a unit; give a slope in deg'),
    ("ground.slope=18 kg", 'ground.slope = "18 kg": "kg" does not measure a slope'),
    ("ground.slope=61 deg", 'ground.slope = "61 deg": not plausible; allowed: a slope from 0 deg'),
    ("ground.slope=-1 deg", "allowed: a slope from 0 deg to 60 deg"),
    ("ground.downhill=down", "ground.downhill = \"down\": allowed: 'left' or 'right'"),
    ("ground.friction=-0.1", "ground.friction = -0.1: not plausible; allowed: a ratio from 0"),
    ("ground.friction=nan", "ground.friction = NaN: not a finite number"),
    ("ground.stiffness=soft", 'allowed: "hard", a stiffness from 5 kN/m'),
    ("ground.roughness=F", 'allowed: "none", "A", "B", "C", "D", "E", a roughness from 0 m^3'),
    ("ground.seed=-1", "ground.seed = -1: input should be greater than or equal to 0"),
    ("ground.seed=1.5", "ground.seed = 1.5: input should be a valid integer"),
    ("ground.coherence=2", "allowed: a ratio from 0 to 1"),
    ("feature.1.shape=stone", "feature.1.shape = \"stone\": allowed: 'bump', 'hole', 'ridge'"),
    ("feature.1.height=0 mm", "feature.1.height = \"0 mm\": not plausible; allowed: a length from"),
    ("feature.1.height=0.9 m", "too steep for a bump; allowed: up to 1 times its length, 0.8 m"),
    ("feature.1.length=0 m", 'feature.1.length = "0 m": not plausible'),
    ("feature.1.at=8.8 m", "the bump reaches from 8.4 m to 9.2 m; allowed: on the course, 0 m"),
    ("feature.1.at=0.3 m", "the bump reaches from -0.1 m to 0.7 m; allowed: on the course"),
    ("feature.1.y=0.4 m", "feature.1.wheels = \"uphill\": allowed: either wheels ="),
    ("feature=3", "feature = 3: input should be a valid tuple; allowed: tables, as [[...]]"),
    ("course.length=0 m", 'course.length = "0 m": not plausible; allowed: a length from 1 m'),
    ("course.radius=4 m", 'course.radius = "4 m": means nothing on path "contour"; leave it out'),
    ("course.path=turn uphill", 'course.radius: path "turn uphill" needs it; allowed: as "6 m"'),
    ("course.path=tilt table", 'course.length = "9 m": means nothing on path "tilt table"'),
    ("course.method=lower", "course.method = \"lower\": is for path \"tilt table\" only"),
    ("drive.speed=50 km/h", 'drive.speed = "50 km/h": not plausible; allowed: a speed from 0 km/h'),
    ("drive.speed=5 km", 'drive.speed = "5 km": "km" does not measure a speed'),
    ("drive.brake={at='9 m', wheels='both'}", 'drive.brake.at = "9 m": allowed: under course.le'),
    ("drive.brake.at=3 m", "drive.brake.wheels: missing; needed: \"both\", \"uphill\""),
    ("loader.height=[['0 m','carry']]", "loader.height = [[\"0 m\", \"carry\"]]: allowed: 2"),
    ("loader.height=[['1 m','carry'],['0 m','full']]", "in path order"),
    ("loader.height=[['1 m','carry'],['20 m','full']]", "allowed: up to course.length, 9 m"),
    ("loader.height=[['1 m','carry'],['2 m','top']]", 'loader.height.2.2 = "top": not a finite'),
    ("run.rate=300 Hz", 'run.rate = "300 Hz": does not fall on steps of 1 ms; allowed: a whole'),
    ("run.step=20 ms", 'run.step = "20 ms": not plausible; allowed: a time from 0.05 ms to 4 ms'),
    ("title=", "title = \"\": allowed: text of 1 to 80 characters on one line"),
]  # fmt: skip


@pytest.mark.parametrize(("setting", "said"), BAD_SETTINGS)
def test_bad_setting_is_refused(setting: str, said: str) -> None:
    with pytest.raises(InputError) as refusal:
        load_scenario("bank-stone", [setting])
    message = str(refusal.value)
    assert said in message
    assert "bank-stone.toml" in message


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            'shape = "log"\n',
            'shape = "log"\nlength = "0.1 m"\n',
            "too steep for a log; allowed: up",
        ),
        ('height = "80 mm"', 'height = "0.7 m"', "no wheel comes out; allowed: up to 0.6 m deep"),
        ('shape = "ridge"\n', 'shape = "ridge"\nwheels = "both"\n', "lies right across; leave wh"),
        ('shape = "ridge"\n', 'shape = "hole"\n', 'a hole needs a width; allowed: as "0.6 m"'),
        ('y = "-0.4 m"\n', "", 'feature.2.wheels: allowed: either wheels = "uphill"'),
        ('after = "3 m"', 'after = "9 m"', 'course.after = "9 m": allowed: under course.length'),
        ('speed = "5 km/h"\n', "", 'drive.speed: missing; allowed: as "5 km/h"'),
        ('slope = "10 deg"\n', "", "ground.slope: missing; needed: a slope from 0 deg to 60 deg"),
    ],
)
def test_contradictions_point_at_their_line(full: Path, old: str, new: str, said: str) -> None:
    assert FULL.count(old) == 1
    full.write_text(FULL.replace(old, new))
    with pytest.raises(InputError) as refusal:
        load_scenario(full)
    assert said in str(refusal.value)
    assert str(refusal.value).startswith(f"{full}, line ")


def test_a_tilt_table_takes_nothing_that_moves() -> None:
    table = load_scenario("tilt-table")
    assert table.course.is_tilt_table and table.course.length is None
    for setting in ("drive.speed=3 km/h", "ground.grade=5 %", "ground.roughness=A"):
        field = setting.split("=")[0].replace("drive.speed", "drive")
        with pytest.raises(InputError, match=f"{field}.*stands still on a plane; leave it out"):
            load_scenario("tilt-table", [setting])


def test_defaults_with_a_bearing_are_listed() -> None:
    told = ["run.step = 0.001 s", "run.rate = 100 Hz", "run.tyre = point"]
    assert defaults_used(load_scenario("bank-stone")) == told
    rough = load_scenario("bank-stone", ["ground.roughness=B"])
    assert "ground.coherence = 0.6" in defaults_used(rough)
    assert not any("drive" in line for line in defaults_used(load_scenario("tilt-table")))


def test_copy_with_changed_values_in_si() -> None:
    scenario = load_scenario("bank-stone").with_values(
        {"ground.slope": 0.2, "feature.1.height": 0.05}
    )
    assert (scenario.ground.slope, scenario.feature[0].height) == (0.2, 0.05)
    assert scenario.file == "bank-stone"
    with pytest.raises(InputError, match=r"ground.slope = 2.0: not plausible"):
        scenario.with_values({"ground.slope": 2.0})
    with pytest.raises(InputError, match=r"ground.slope = NaN: not a finite number"):
        scenario.with_values({"ground.slope": math.nan})
