"""What is kept of a machine between runs: nothing that one run could leave to another."""

from pathlib import Path

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from sidehill.case import Case
from sidehill.files.library import find
from sidehill.flat import flatten
from sidehill.flat.mechanism import mechanism
from sidehill.kernels.height import Ground, height
from sidehill.kernels.layout import Vector
from sidehill.kernels.tyre import SECTION_SHARE, met_features
from sidehill.machine.file import load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import load_scenario

STONE = load_scenario("bank-stone")


def test_an_array_that_is_written_to_is_not_the_next_runs() -> None:
    case = Case(load_machine("bramble"), STONE)
    first = flatten(case)
    before = first.model.copy()
    first.model["mass"][:] = 1.0
    assert np.array_equal(flatten(case).model, before)
    assert mechanism(case.machine, case.outfit, "right", ()).model is not first.model


def test_machines_that_are_equal_keep_their_own_notes(tmp_path: Path) -> None:
    text = find("machine", "bramble").read_text(encoding="utf-8")
    machines = []
    for content in (text.replace("lateral_ratio = 0.5\n", ""), text):  # 0.5: the default
        (tmp_path / "same.toml").write_text(content, "utf-8")
        machines.append(load_machine(tmp_path / "same.toml"))
    silent, told = machines
    assert told == silent
    notes = [flatten(Case(machine, STONE)).notes for machine in (silent, told, silent)]
    default = "rear_tyre.lateral_ratio not given"
    assert [any(default in note for note in found) for found in notes] == [True, False, True]


@settings(max_examples=60)
@given(
    sink=st.floats(-0.1, 0.1), tilt=st.floats(-0.4, 0.4), turn=st.floats(-3.1, 3.1),
    x=st.floats(3.5, 6.5), off=st.floats(-1.0, 1.0),
)  # fmt: skip
def test_no_feature_that_a_wheel_touches_is_passed_over(
    sink: float, tilt: float, turn: float, x: float, off: float
) -> None:
    flat = flatten(Case(load_machine("bramble"), STONE, Outfit()))
    features = flat.ground.features
    radius, section = float(flat.case["radius"][0, 2]), float(flat.case["section"][0, 2])
    axle = np.array([np.cos(tilt) * -np.sin(turn), np.cos(tilt) * np.cos(turn), np.sin(tilt)])
    centre = np.array([x, features[0, 2] + off, radius * np.cos(tilt) - sink])
    _, past = met_features(centre, axle, radius, section, flat.ground)
    bare = Ground(features[:0], flat.ground.relief, flat.ground.place)
    touched = any(
        height(px, py, flat.ground) > max(pz, height(px, py, bare))
        for px, py, pz in _rims(centre, axle, radius, SECTION_SHARE * section)
    )
    assert past > 0 or not touched


def _rims(centre: Vector, axle: Vector, radius: float, section: float) -> Vector:
    """(n, 3) points on the rims of a wheel's discs."""
    forward = np.cross(axle, [0.0, 0.0, 1.0])
    forward /= np.linalg.norm(forward)
    down = np.cross(axle, forward)
    angle = np.linspace(0.0, 2.0 * np.pi, 90)[:, None]
    rim = radius * (np.cos(angle) * down + np.sin(angle) * forward)
    return np.concatenate([centre + share * section * axle + rim for share in (-0.5, 0.0, 0.5)])
