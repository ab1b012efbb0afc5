"""A CG height from scales on the desk: found again from a tractor whose height is known."""

from math import cos, radians, sin
from pathlib import Path

import pytest
from desk.conftest import OWN

from sidehill.desk.fields import GROUPS as FIELDS
from sidehill.desk.fields import RAISED
from sidehill.desk.state import first_state, put
from sidehill.desk.tractor import Tractor, read_tractor
from sidehill.machine.build import fit
from sidehill.machine.outfit import Outfit

READINGS = [item.path for item in FIELDS[RAISED]]
MASS, BASE, FRONT, REAR = 1100.0, 1.70, 0.30, 0.48  # [kg, m] wheelbase and radii


def on_the_front(ahead: float, height: float, tilt: float) -> float:
    """[kg] by moments about the rear axle, the whole turned about it; wheels free to roll."""
    up, rise = height - REAR, FRONT - REAR
    return MASS * (ahead * cos(tilt) - up * sin(tilt)) / (BASE * cos(tilt) - rise * sin(tilt))


def read(ahead: float, height: float, tilt: float, **more: str) -> Tractor:
    level = MASS * ahead / BASE
    typed = OWN | {
        "weighed.front_axle": f"{level!r} kg", "weighed.rear_axle": f"{MASS - level!r} kg",
        "body.wheelbase": f"{BASE} m", "weigh.tilt": f"{tilt} deg",
        "weigh.raised_front": f"{on_the_front(ahead, height, radians(tilt))!r} kg",
        "weigh.front_radius": f"{FRONT} m", "weigh.rear_radius": f"{REAR} m",
        "front_tyre.diameter": f"{2 * FRONT} m", "rear_tyre.diameter": f"{2 * REAR} m",
        **{name.replace("__", "."): text for name, text in more.items()},
    }  # fmt: skip
    state = first_state()
    put(state, "tractor/kind", "own")
    for path, text in typed.items():
        put(state, f"tractor/own/{path}", text)
    return read_tractor(state, Path())


@pytest.mark.parametrize("height", [0.55, 0.70, 0.85])
@pytest.mark.parametrize(("ahead", "tilt"), [(0.75, 25.0), (0.80, 20.0), (0.95, 30.0)])
def test_the_height_that_was_there_is_found_and_rounded_up(
    height: float, ahead: float, tilt: float
) -> None:
    found = read(ahead, height, tilt)
    assert found.machine is not None, found.problems
    assert height - 1e-9 <= found.machine.weighed.cg_height <= height + 1.001e-3
    assert "front raised, good to" in found.machine.source


def test_a_loader_that_was_on_is_taken_off_again() -> None:
    """Put on again, the whole has the height that the scales felt."""
    machine = read(0.9, 0.68, 28.0, loader_on="yes").machine
    assert machine is not None
    whole = fit(machine, Outfit(operator="0 kg"))
    assert whole.mass == pytest.approx(MASS, abs=0.2)
    assert whole.cg[2] == pytest.approx(0.68, abs=2e-3)
    assert machine.weighed.cg_height < 0.68 or machine.weighed.cg_height > 0.68


@pytest.mark.parametrize("path", READINGS)
def test_all_four_are_asked_for_once_one_is_there(path: str) -> None:
    found = read(0.8, 0.7, 25.0, **{path.replace(".", "__"): ""})
    assert found.machine is None
    assert set(found.problems) == {path}
    assert "missing" in found.problems[path]


def test_the_wrong_end_and_two_heights_are_told_beside_their_fields() -> None:
    wrong = read(0.8, 0.7, 25.0, weigh__raised_front="800 kg")
    assert "was the wrong end raised" in wrong.problems["weigh.raised_front"]
    assert "--low-cg" not in wrong.problems["weigh.raised_front"]
    twice = read(0.8, 0.7, 25.0, weighed__cg_height="0.6 m")
    assert "empty one of them" in twice.problems["weighed.cg_height"]
    other = read(0.8, 0.7, 25.0, weigh__rear_radius="0.40 m")
    assert "one of the two is wrong" in other.problems["weigh.rear_radius"]
