"""The ground that is drawn is the ground that is driven on, and level where it should be."""

from math import radians, tan

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.pane import build_pane
from sidehill.film.render.level import levelling, up
from sidehill.film.render.scene import CLEAR, Scene
from sidehill.film.render.scenery import BANK
from sidehill.flat import flatten
from sidehill.kernels.height import height

SCENARIOS = (
    "bank-stone",
    "bank-rut",
    "bank-stone-and-rut",
    "bank-rough",
    "turn-uphill",
    "wet-grass",
)


def scene_of(scenario: str, *changes: str) -> Scene:
    scene = build_pane(posed(case_of("sorrel", scenario, changes), [0.0] * 3), "x").scene
    assert scene is not None
    return scene


def grass(scene: Scene) -> np.ndarray:
    """(n, 3) [m] points of the grass, hillside frame."""
    model = scene.model
    is_grass = np.zeros(len(model.points), bool)
    material = model.finishes[model.finish_of, 5] > 0.0
    is_grass[model.triangles[material].ravel()] = True
    return model.points[is_grass & (model.link_of == model.links.index(BANK))]


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_mesh_has_the_height_that_the_tyres_feel(scenario: str) -> None:
    ground = flatten(case_of("sorrel", scenario)).ground
    scene = scene_of(scenario)
    assert scene.bank is not None
    points = grass(scene)
    up_bank = points[:, :2] @ scene.bank.uphill
    low, high = scene.bank.reach[1]
    on_plane = points[(up_bank > low) & (up_bank < high)]
    assert len(on_plane) > 500
    felt = np.array([height(x, y, ground) for x, y in on_plane[:, :2]])
    assert np.abs(on_plane[:, 2] - felt).max() < 1e-9


@pytest.mark.parametrize(("scenario", "least"), [("bank-stone", 0.099), ("bank-rut", 0.099)])
def test_the_mesh_is_fine_enough_to_show_a_feature(scenario: str, least: float) -> None:
    assert (
        np.abs(grass(scene_of(scenario))[:, 2][np.abs(grass(scene_of(scenario))[:, 1]) < 2]).max()
        > least
    )


@pytest.mark.parametrize("downhill", ["left", "right"])
@pytest.mark.parametrize("grade", ["0 deg", "7 deg"])
def test_the_ground_is_level_beyond_the_bank(downhill: str, grade: str) -> None:
    scene = scene_of("bank-plain", f"ground.downhill={downhill}", f"ground.grade={grade}")
    level, shift = scene.levelling(0.0)
    heights = (grass(scene) @ level.T + shift)[:, 2]
    far = np.abs(grass(scene)[:, :2] @ scene.bank.uphill) > 15.0  # type: ignore[union-attr]
    tops = np.unique(np.round(heights[far], 6))
    assert len(tops) == 2
    assert tops[1] - tops[0] > 1.0


def test_the_bank_is_as_steep_as_it_is() -> None:
    scene = scene_of("bank-plain", "ground.slope=14 deg")
    level, _ = scene.levelling(0.0)
    along_y = level @ np.array([0.0, 1.0, 0.0])
    assert along_y[2] / np.hypot(*along_y[:2]) == pytest.approx(tan(radians(14.0)), abs=1e-12)


def test_an_eye_is_kept_above_ground() -> None:
    scene = scene_of("bank-plain")
    for place in ([3.0, -6.0, -2.0], [3.0, 9.0, 0.3], [3.0, 40.0, -30.0]):
        level, shift = scene.levelling(0.0)
        eye = scene.lifted(level @ np.array(place) + shift, 0.0)
        assert scene.bank is not None
        assert scene.bank.above(level.T @ (eye - shift)) > 0.9 * CLEAR


def test_a_tilt_table_turns_and_a_bank_does_not() -> None:
    record = posed(case_of("bramble", "tilt-table"), [0.0] * 3)
    record.columns["slope_deg"] = np.array([0.0, 10.0, 20.0])
    table = build_pane(record, "table").scene
    assert table is not None
    assert table.slope(0.01) == pytest.approx(radians(10.0))
    turn, shift = table.levelling(0.02)
    assert np.allclose(turn, levelling(up(radians(20.0), 0.0, 1.0)))
    assert np.allclose(turn @ table.hinge + shift, table.hinge)
    record = posed(case_of("bramble", "bank-plain"), [0.0] * 3)
    record.columns["slope_deg"] = np.array([0.0, 5.0, 10.0])
    bank = build_pane(record, "bank").scene
    assert bank is not None
    assert bank.slope(0.0) == bank.setting.slope
