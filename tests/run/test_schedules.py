"""Speeds and bends of one's own: laws, kinematics of a steady turn, and all engines alike."""

from collections.abc import Mapping
from math import atan, cos, degrees, radians, sin
from typing import Any

import numpy as np
import pytest
from population import MACHINES
from scipy.integrate import quad

from sidehill.advice.free import free_changes
from sidehill.case import Case
from sidehill.engines import here
from sidehill.files.errors import InputError
from sidehill.flat import flatten
from sidehill.kernels.driver import locate
from sidehill.kernels.layout import MOST_PIECES, MOST_SPEEDS, Records
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.run import Track, run
from sidehill.run.record import simulate
from sidehill.scenario.course import MOST_BENDS
from sidehill.scenario.drive import MOST_SPEEDS as MOST_PAIRS
from sidehill.scenario.file import load_scenario
from sidehill.scenario.told import bend_words, speed_words
from sidehill.strip.strip import take_strip
from sidehill.study.make import make_study
from sidehill.terrain.course import way

S_BEND = ((3.0, 0.15), (6.0, -0.15), (10.0, 0.1), (12.0, 0.0))
WINDING = {"path": "winding", "length": 14.0, "bends": S_BEND}
PACED = {"speed": 0.8, "then": ((4.0, 0.8), (8.0, 2.2), (11.0, 1.2))}


def case_of(
    scenario: str = "bank-plain", machine: str = "bramble", load: str = "150 kg",
    **changes: Mapping[str, Any],
) -> Case:  # fmt: skip
    return Case(load_machine(machine), load_scenario(scenario, **changes), Outfit(bucket_load=load))


def rows_of(case: Case, engine: str = "compiled") -> Records:
    return run(case, engine).written()


def same(one: Records, other: Records) -> bool:
    return one.tobytes() == other.tobytes()


@pytest.mark.parametrize("scenario", ["bank-stone", "turn-downhill", "bank-rough"])
@pytest.mark.parametrize("hold", ["speed", "pushed"])
def test_the_same_speed_throughout_is_the_plain_speed_to_the_bit(scenario: str, hold: str) -> None:
    plain = case_of(scenario, drive={"hold": hold})
    speed = plain.scenario.drive.speed
    paced = plain.with_scenario({"drive.then": ((1.0, speed), (3.7, speed), (8.0, speed))})
    assert paced.key() != plain.key()
    assert same(rows_of(plain), rows_of(paced))


@pytest.mark.parametrize("path", ["turn uphill", "turn downhill"])
@pytest.mark.parametrize("downhill", ["left", "right"])
def test_a_turn_is_a_course_of_one_bend_to_the_bit(path: str, downhill: str) -> None:
    """The arc is `1 / radius`; given twice over it is in two pieces, to rounding the same."""
    rough = {"ground": {"downhill": downhill, "roughness": "C"}}
    at, bend = 3.0, (1.0 if path == "turn uphill" else -1.0) / 5.0
    turn = {"path": path, "length": 9.0, "radius": 5.0, "after": at}
    one = {"path": "winding", "length": 9.0, "bends": ((at, bend),)}
    two = one | {"bends": ((at, bend), (6.1, bend))}
    found = [rows_of(case_of(course=course, **rough)) for course in (turn, one, two)]
    assert same(found[0], found[1])
    assert np.allclose(found[0]["roll_slope"], found[2]["roll_slope"], rtol=0.0, atol=1e-7)


def test_straight_pieces_are_a_straight_course() -> None:
    straight = {"path": "winding", "length": 9.0, "bends": ((2.0, 0.0), (5.0, 0.0))}
    plain = case_of("bank-stone")
    # a place is counted from where its piece begins: the last bits of the path differ
    for name in ("roll_slope", "path", "load"):
        one, other = rows_of(plain)[name], rows_of(case_of("bank-stone", course=straight))[name]
        assert np.allclose(one, other, rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize(
    "later",
    [
        {"drive.then": ((4.0, 0.8), (8.0, 0.8), (11.0, 2.0))},
        {"course.bends": (*S_BEND[:2], (8.0, 0.0))},
    ],
)
def test_what_differs_later_changes_nothing_before(later: Mapping[str, Any]) -> None:
    one = case_of(course=WINDING, drive=PACED | {"then": ((4.0, 0.8), (8.0, 0.8))})
    first, second = rows_of(one), rows_of(one.with_scenario(later))
    before = [rows[np.maximum.accumulate(rows["path"]) < 8.0] for rows in (first, second)]
    assert len(before[0]) > 500 and same(*before)
    assert not same(first, second)


def test_a_longer_course_changes_no_fact_and_no_peak() -> None:
    """Beyond the last pair and the last bend, straight on at that speed, nothing is new."""
    found = [
        run(case_of(course=WINDING | {"length": length}, drive=PACED), "compiled").outcome
        for length in (14.0, 18.0)
    ]
    assert found[0].facts == found[1].facts == ("planted", "across", True)
    assert found[0].peak_roll_deg == pytest.approx(found[1].peak_roll_deg, abs=1e-9)


@pytest.mark.parametrize("engine", here())
def test_a_mirror_turns_everything_round(engine: str) -> None:
    ground = {"slope": radians(12.0)}
    found = [
        rows_of(case_of(ground=ground | {"downhill": side}, course=WINDING, drive=PACED), engine)
        for side in ("left", "right")
    ]
    shortest = min(map(len, found))
    left, right = (rows[:shortest] for rows in found)
    # pybullet's solver takes the wheels in their order; the others are symmetric to rounding
    close = 1e-5
    assert np.allclose(left["roll_slope"], right["roll_slope"], rtol=0.0, atol=close)
    assert np.allclose(left["off_path"], -right["off_path"], rtol=0.0, atol=close)
    assert np.allclose(left["steer"], -right["steer"], rtol=0.0, atol=10.0 * close)


@pytest.mark.parametrize("other", [name for name in here() if name != "compiled"])
def test_engines_agree_on_schedules(other: str) -> None:
    """To 0.001 deg of peak roll, with the same facts, as everywhere."""
    stone = {"feature.1.at": 7.0, "ground.slope": radians(10.0)}
    for name in MACHINES:
        for base, drive in (("bank-stone", PACED), ("bank-rough", PACED | {"hold": "pushed"})):
            case = case_of(base, name, "0 kg", course=WINDING, drive=drive)
            case = case.with_scenario(stone if base == "bank-stone" else {})
            ours, theirs = (run(case, engine).outcome for engine in ("compiled", other))
            assert ours.facts == theirs.facts
            assert ours.peak_roll_deg == pytest.approx(theirs.peak_roll_deg, abs=1e-3)


@pytest.mark.parametrize("name", MACHINES)
@pytest.mark.parametrize("radius", [5.0, -9.0])
def test_a_steady_bend_has_its_radius_and_the_steer_of_textbooks(name: str, radius: float) -> None:
    """Rolling slowly on the level: yaw rate v / R, bicycle steer angle atan(wheelbase / R)."""
    machine = load_machine(name)
    course = {"path": "winding", "length": 11.0, "bends": ((2.0, 0.08), (5.0, 1.0 / radius))}
    level = {"slope": 0.0, "rolling_resistance": 0.0, "friction": 1.0}
    rows = rows_of(case_of(
        machine=name, ground=level, course=course, drive={"speed": 0.5, "four_wheel": False},
    ))  # fmt: skip
    late = rows[(rows["path"] > 8.0) & (rows["path"] < 10.8)]
    heading = np.unwrap(2.0 * np.arctan2(late["quaternion"][:, 2], late["quaternion"][:, 3]))
    # a circle through the rear axle's middle, by least squares: x^2 + y^2 = 2 a x + 2 b y + c
    x, y = late["position"][:, 0], late["position"][:, 1]
    a, b, c = np.linalg.lstsq(np.column_stack([2 * x, 2 * y, np.ones_like(x)]), x**2 + y**2)[0]
    assert np.sqrt(c + a**2 + b**2) == pytest.approx(abs(radius), rel=0.01)
    yaw = np.polyfit(late["t_s"], heading, 1)[0]
    assert yaw == pytest.approx(0.5 / radius, rel=0.02)
    assert late["steer"].mean() == pytest.approx(atan(machine.body.wheelbase / radius), rel=0.02)


@pytest.mark.parametrize("hold", ["speed", "pushed"])
def test_the_speed_that_was_asked_for_is_driven(hold: str) -> None:
    record = simulate(case_of(
        course={"length": 18.0}, ground={"slope": 0.0}, drive=PACED | {"hold": hold},
    ), "compiled")  # fmt: skip
    path, speed = record.columns["path_m"], record.columns["speed_m_s"]
    places, wanted = np.array([(0.0, 0.8), *PACED["then"]]).T  # type: ignore[misc]
    asked = np.interp(path, places, wanted)
    # a lack is made up in 0.3 s, and the wheels are to be spun up too: 0.28 m/s measured at
    # 0.35 m/s a metre times 2.2 m/s, 0.8 m/s^2
    assert np.abs(speed - asked).max() < 0.4 * 0.8
    steady = path > 17.0  # the drive's integral is gone after some seconds
    assert np.abs(speed - asked)[steady].max() < 0.01
    # and the time it took is the integral of 1 / v
    takes = quad(lambda s: 1.0 / np.interp(s, places, wanted), 0.0, 14.0, points=places[1:])[0]
    assert record.columns["t_s"][np.searchsorted(path, 14.0) - 1] == pytest.approx(takes, rel=0.02)


def test_a_machine_that_cannot_climb_slides_back() -> None:
    """Under a schedule as under one speed: no grip, no way."""
    steep = {"ground": {"slope": 0.0, "grade": radians(20.0), "friction": 0.3}}
    outcome = run(case_of(course={"length": 14.0}, drive=PACED, **steep), "compiled").outcome
    assert outcome.progress == "slid"


def test_the_path_that_is_drawn_is_the_one_that_is_integrated() -> None:
    """Pieces against the heading's integral, step by step."""
    scenario = load_scenario("bank-plain", course=WINDING)
    steps = np.linspace(0.0, 14.0, 140_001)
    curvature = np.zeros_like(steps)
    for at, bend in S_BEND:
        curvature[steps >= at] = bend
    heading = np.concatenate([[0.0], np.cumsum(curvature[:-1] * np.diff(steps))])
    x = np.concatenate([[0.0], np.cumsum(np.cos(heading[:-1]) * np.diff(steps))])
    y = np.concatenate([[0.0], np.cumsum(np.sin(heading[:-1]) * np.diff(steps))])
    found = way(scenario)
    for k in range(0, len(steps), 7001):
        px, py, turn = found.point(float(steps[k]), 0.0)
        assert (px, py, turn) == pytest.approx((x[k], y[k], heading[k]), abs=2e-4)
        left = found.point(float(steps[k]), 0.4)
        back = found.nearest(np.array([left[0]]), np.array([left[1]]))
        assert (back[0][0], back[1][0]) == pytest.approx((steps[k], 0.4), abs=1e-9)


def test_the_place_on_the_path_is_the_nearest_one() -> None:
    """What a run says of path and offset, against the nearest of many points of the path."""
    track: Track = run(case_of(course=WINDING, drive={"speed": 2.5}), "compiled")
    rows = track.written()[::40]
    found = way(load_scenario("bank-plain", course=WINDING))
    along = np.linspace(0.0, 14.0, 14_001)
    points = np.array([found.point(float(s), 0.0)[:2] for s in along])
    for row in rows[(rows["path"] > 0.1) & (rows["path"] < 13.9)]:
        apart = np.linalg.norm(points - row["position"][:2], axis=1)
        assert along[apart.argmin()] == pytest.approx(row["path"], abs=2e-3)
        assert apart.min() == pytest.approx(abs(row["off_path"]), abs=1e-4)


def test_arrays_are_taken_and_text_with_units_too() -> None:
    path = np.linspace(0.5, 9.0, 40)
    curve = np.column_stack([path[:-1], 0.1 * np.sin(path[:-1])])
    speeds = np.column_stack([path, 1.0 + 0.05 * path])
    course = {"path": "winding", "length": 9.0, "bends": curve}
    drive = {"speed": 1.0, "then": speeds}
    scenario = load_scenario("bank-plain", course=course, drive=drive)
    assert scenario.course.bends == tuple(map(tuple, curve))
    assert scenario.drive.then == tuple(map(tuple, speeds))
    told = load_scenario("bank-plain", [
        'course.path="winding"', "course.bends=[['2 m', '-10 deg/m']]",
        "drive.then=[['3 m', '3.6 km/h']]",
    ])  # fmt: skip
    assert told.course.bends == ((2.0, pytest.approx(radians(-10.0))),)
    assert degrees(told.course.bends[0][1]) == pytest.approx(-10.0)
    assert told.drive.then == ((3.0, pytest.approx(1.0)),)


def test_the_kernels_hold_as_many_as_a_file_may() -> None:
    assert (MOST_PIECES, MOST_SPEEDS) == (MOST_BENDS + 1, MOST_PAIRS + 1)
    many = np.linspace(0.01, 8.9, MOST_PAIRS)
    paced = {"speed": 0.9, "then": np.column_stack([many, np.full(MOST_PAIRS, 0.9)])}
    winds = np.column_stack([many[:MOST_BENDS], np.zeros(MOST_BENDS)])
    course = {"path": "winding", "length": 9.0, "bends": winds}
    assert run(case_of(course=course, drive=paced), "compiled").outcome.progress == "across"


@pytest.mark.parametrize("path", ["turn uphill", "turn downhill"])
def test_past_a_turn_of_almost_half_a_circle_the_place_is_known(path: str) -> None:
    """Straight on there, back beside the way it came: a machine posed along it."""
    course = {"path": path, "radius": 3.0, "after": 2.0, "length": 11.0}
    flat = flatten(case_of(course=course))
    found, state = way(flat.source.scenario), flat.start()
    heading = found.point(11.0, 0.0)[2]
    for along in np.linspace(0.0, 14.0, 281):
        px, py, turn = found.point(min(along, 11.0), 0.1)
        if along > 11.0:
            px, py = px + (along - 11.0) * cos(heading), py + (along - 11.0) * sin(heading)
        state["position"][0, :2] = px, py
        error = locate(flat.case, state, cos(turn), sin(turn))
        assert error == pytest.approx(0.0, abs=1e-9)
        told = (state["path"][0], state["off_path"][0])
        assert told == pytest.approx((along, 0.1), abs=1e-9)


def test_a_limit_of_the_speed_is_refused_where_it_changes_on_the_way() -> None:
    """A strip would vary the first speed alone, and say that going slower changes nothing."""
    case = case_of(drive=PACED, course={"length": 14.0})
    with pytest.raises(InputError, match=r"limit of speed: drive\.then .*allowed: a scenario w"):
        take_strip(case, of="speed", engine="compiled")
    study = make_study(
        case.machine, case.scenario, {"as it is": Outfit(), "wide": Outfit(rear_spacer=0.1)}
    )
    slower = free_changes(study)[0]
    assert slower.case is None and slower.already.endswith("on the way: not tried")
    assert not slower.is_kept


def test_schedules_are_told_in_words() -> None:
    scenario = load_scenario("bank-plain", course=WINDING, drive=PACED)
    assert speed_words(scenario.drive, us=False) == (
        "2.9 km/h (1.8 mph), then 2.9 km/h (1.8 mph) at 4.00 m (13.1 ft), then 7.9 km/h (4.9 mph) "
        "at 8.00 m (26.2 ft), then 4.3 km/h (2.7 mph) at 11.00 m (36.1 ft)"
    )
    words = bend_words(scenario.course, us=False)
    assert words[1] == "radius 6.67 m (21.9 ft) downhill from 6.00 m (19.7 ft) on"
    assert words[3] == "straight from 12.00 m (39.4 ft) on"
