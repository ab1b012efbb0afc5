"""Courses: every shipped scenario runs, turns turn, loads in a turn, the loader, the brakes."""

from math import atan, cos, degrees

import numpy as np
import pytest
from population import MACHINES, RATED
from scipy.spatial.transform import Rotation

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.library import shipped
from sidehill.flat import flatten
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.linkage import WHEELS
from sidehill.machine.outfit import Outfit
from sidehill.rest import Rest
from sidehill.run import run
from sidehill.run.outcome import Outcome
from sidehill.run.record import Record, simulate
from sidehill.scenario.file import load_scenario
from sidehill.statics.assembly import from_fitted
from sidehill.statics.loads import wheel_loads
from sidehill.statics.tipping import GRAVITY

COURSES = [name for name in shipped("scenario") if name != "tilt-table"]
YAW_RATE = 0.05  # of v/R, open differential (issue)
TURN_LOADS = 0.02  # of the closed form (issue)


def outfits(name: str) -> tuple[Outfit, Outfit]:
    return Outfit(), Outfit(bucket_load=f"{0.6 * RATED[name]} kg")


def drive(case: Case, engine: str = "mujoco") -> Outcome:
    return run(case, engine).outcome


@pytest.mark.parametrize("course", COURSES)
@pytest.mark.parametrize("name", MACHINES)
def test_every_scenario_has_its_facts_with_every_machine(name: str, course: str) -> None:
    for outfit in outfits(name):
        outcome = drive(Case(load_machine(name), load_scenario(course), outfit))
        assert outcome.stability is not None and outcome.progress not in (None, "cut")


@pytest.mark.parametrize("course", COURSES)
def test_engines_give_the_same_facts_on_every_scenario(course: str) -> None:
    pytest.importorskip("pybullet")
    case = Case(load_machine("bramble"), load_scenario(course), outfits("bramble")[1])
    assert drive(case, "pybullet").facts == drive(case).facts


def circle(machine: Machine, radius: float, speed: float, length: float, **more: str) -> Record:
    """A turn to the left on level ground without rolling resistance."""
    values = {"feature": [], "ground.slope": 0.0, "ground.rolling_resistance": 0.0}
    values |= {"ground.friction": 1.0, "course.radius": radius, "course.length": length}
    values |= {"drive.speed": speed, "drive.four_wheel": False} | {
        key.replace("_", "."): more[key] for key in more
    }
    return simulate(Case(machine, load_scenario("turn-uphill").with_values(values)), "mujoco")


def yaw_rate(record: Record, last: float) -> float:
    """[rad/s] over the last seconds."""
    yaw = np.unwrap(Rotation.from_quat(record.quaternion("chassis")).as_euler("ZYX")[:, 0])
    time = record.columns["t_s"]
    late = time > time[-1] - last
    return float(np.polyfit(time[late], yaw[late], 1)[0])


@pytest.mark.parametrize("name", MACHINES)
def test_turning_circle_and_what_a_locked_differential_costs(name: str) -> None:
    machine = load_machine(name)
    open_one = circle(machine, 5.0, 0.8, 14.0)
    locked = circle(machine, 5.0, 0.8, 14.0, drive_differential="locked")
    assert yaw_rate(open_one, 3.0) == pytest.approx(0.8 / 5.0, rel=YAW_RATE)
    kinematic = degrees(atan(machine.body.wheelbase / 5.0))
    assert open_one.columns["steer_deg"][-1] == pytest.approx(kinematic, rel=0.02)
    # the tied wheels scrub: the same circle takes clearly more steer
    assert locked.columns["steer_deg"][-1] > 1.1 * kinematic


@pytest.mark.parametrize("name", MACHINES)
def test_wheel_loads_in_a_steady_turn_are_those_of_the_pivoting_axle(name: str) -> None:
    """Gravity tilted by atan(a/g), on hard tyres, against the closed form.

    The spinning wheels add their gyroscopic moment to each axle, towards the outside.
    """
    hard = {"stiffness": 1e6, "lateral_ratio": 1.5, "damping_ratio": 0.3}
    machine = load_machine(name).with_values(
        {f"{end}_tyre.{key}": value for end in ("front", "rear") for key, value in hard.items()}
    )
    record = circle(machine, 15.0, 4.5, 34.0)
    late = record.columns["t_s"] > record.columns["t_s"][-1] - 1.0
    turning = yaw_rate(record, 1.0)
    tilt = atan(turning * 4.5 / GRAVITY)
    flat = flatten(Case(machine, load_scenario("bank-plain")))
    loads = wheel_loads(from_fitted(flat.fitted), tilt)  # right, outside, as "downhill"
    expected = (loads.front_up, loads.front_down, loads.rear_up, loads.rear_down)
    spin = {link.name: link.inertia[1, 1] for link in flat.links}
    tracks = (flat.fitted.front_track, flat.fitted.rear_track)
    for i, (wheel, load) in enumerate(zip(WHEELS, expected, strict=True)):
        rolling = 4.5 / flat.case["radius"][0, i]
        gyroscopic = 2.0 * spin[f"wheel_{wheel}"] * rolling * turning / tracks[i // 2]
        still = float(load) / cos(tilt) + (gyroscopic if i % 2 else -gyroscopic)
        mean = record.columns[f"load_{wheel}_n"][late].mean()
        assert mean == pytest.approx(still, rel=TURN_LOADS)


def test_roll_in_a_steady_turn_is_that_of_compliant_statics() -> None:
    machine = load_machine("bramble")
    record = circle(machine, 15.0, 4.5, 34.0)
    late = record.columns["t_s"] > record.columns["t_s"][-1] - 1.0
    tilt = atan(yaw_rate(record, 1.0) * 4.5 / GRAVITY)
    rest = Rest(flatten(Case(machine, load_scenario("tilt-table"))))
    while rest.slope < tilt - 1e-12:
        assert rest.move(min(rest.slope + 0.01, tilt))
    turn = Rotation.from_quat(rest.state["quaternion"][0]).as_matrix()
    roll = degrees(np.arcsin(turn[2, 1])) / cos(tilt)  # all loads are larger by 1/cos
    assert record.columns["roll_slope_deg"][late].mean() == pytest.approx(roll, abs=0.03)


def test_a_rising_bucket_really_moves_its_mass() -> None:
    """At the end of the lift the axles carry what statics gives with the bucket up."""
    machine = load_machine("bramble")
    bank = load_scenario("raise-on-bank", ["ground.slope=0 deg", "drive.speed=2 km/h"])
    record = simulate(Case(machine, bank, Outfit(bucket_load="200 kg")), "mujoco")
    level = load_scenario("bank-plain", ["ground.slope=0 deg"])
    up = Case(machine, level, Outfit(bucket_load="200 kg", bucket_height="full"))
    expected = flatten(up).case["level_load"][0]
    late = record.columns["t_s"] > record.columns["t_s"][-1] - 1.0
    front = sum(record.columns[f"load_front_{side}_n"][late].mean() for side in ("left", "right"))
    assert front == pytest.approx(expected[:2].sum(), rel=0.03)


def test_a_rising_bucket_lowers_what_the_bank_forgives() -> None:
    machine = load_machine("hawthorn")
    load = Outfit(bucket_load="600 kg")
    low = load_scenario("raise-on-bank", ['loader.height=[["0 m","carry"],["8 m","carry"]]'])
    rising = drive(Case(machine, load_scenario("raise-on-bank"), load))
    assert rising.peak_roll_deg > 5.0 * drive(Case(machine, low, load)).peak_roll_deg


def test_one_brake_swings_the_machine_toward_its_side() -> None:
    case = Case(load_machine("bramble"), load_scenario("one-brake"), Outfit(bucket_load="250 kg"))
    record = simulate(case, "mujoco")
    yaw = np.degrees(Rotation.from_quat(record.quaternion("chassis")).as_euler("ZYX")[:, 0])
    assert yaw.max() > 20.0  # uphill is to the left


def test_stop_and_go_halts_and_drives_on_and_a_stop_for_good_is_a_halt() -> None:
    machine, bank = load_machine("bramble"), load_scenario("bank-plain")
    brake = {"drive.brake": {"at": "4 m", "wheels": "both", "let_go": "2 s"}}
    record = simulate(Case(machine, bank.with_values(brake)), "mujoco")
    path, time = record.columns["path_m"], record.columns["t_s"]
    halted = time[1:][(np.diff(path) < 1e-5) & (path[1:] > 4.0)]
    assert 1.0 < halted[-1] - halted[0] < 2.0
    assert record.outcome.facts == ("planted", "across", True)
    # with the clutch down nothing pushes
    held = (path > 4.0) & (time < halted[-1] - 0.1)
    assert not np.any(record.columns["drive_torque_nm"][held])
    stops = bank.with_values({"drive.brake": {"at": "4 m", "wheels": "both"}})
    assert drive(Case(machine, stops)).facts == ("planted", "halted", True)


def test_a_machine_without_grip_slides_and_the_kerb_can_trip_it() -> None:
    bank, sorrel = load_scenario("wet-grass"), load_machine("sorrel")
    tripped = drive(Case(sorrel, bank, outfits("sorrel")[1]))
    free = bank.with_values({"feature": []})
    slid = drive(Case(sorrel, free, outfits("sorrel")[1]))
    assert (tripped.progress, slid.progress) == ("over", "slid")
    assert slid.off_path_m > 0.5


def test_a_folded_roll_bar_lets_the_machine_roll_on() -> None:
    table = load_scenario("tilt-table", ["ground.slope=40 deg"])
    ends = {
        rops: simulate(Case(load_machine("bramble"), table, Outfit(rops=rops)), "mujoco").state
        for rops in ("up", "folded")
    }
    rolls = {rops: degrees(state["turned_over"][0]) for rops, state in ends.items()}
    assert 80.0 < rolls["up"] < 120.0
    assert rolls["folded"] > 360.0


@pytest.mark.parametrize(
    ("course", "change", "message"),
    [
        ("bank-stone", "feature.1.at=2 m", r"feature\.1\.at = 2\.00 m.*allowed: from"),
        ("bank-rut", "feature.1.height=310 mm", r"feature\.1\.height = 310 mm.*allowed: under"),
        (
            "turn-uphill",
            "course.radius=1.2 m;course.length=7.5 m",
            r"course\.radius = 1\.20 m.*allowed: at least",
        ),
        ("raise-on-bank", 'loader.height=[["0 m","carry"],["5 m","3.9 m"]]', r"loader\.height"),
    ],
)
def test_a_course_that_does_not_suit_the_machine_is_refused(
    course: str, change: str, message: str
) -> None:
    case = Case(load_machine("bramble"), load_scenario(course, change.split(";")))
    with pytest.raises(InputError, match=message):
        run(case, "mujoco")


@pytest.mark.parametrize(
    ("course", "change", "message"),
    [
        ("turn-uphill", "course.length=24 m", r"course\.length.*half a circle.*allowed: up to 19"),
        (
            "raise-on-bank",
            f"loader.height={[[f'{k} dm', 'carry'] for k in range(17)]}",
            r"loader\.height.*2 to 16 pairs",
        ),
    ],
)
def test_a_course_that_cannot_be_followed_is_refused(
    course: str, change: str, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        load_scenario(course, [change])


def test_a_moving_loader_needs_a_loader() -> None:
    bare = load_machine("bramble").model_copy(update={"loader": None})
    with pytest.raises(InputError, match=r"no \[loader\]"):
        run(Case(bare, load_scenario("raise-on-bank")), "mujoco")
