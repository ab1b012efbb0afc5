"""Triangles of one plane stand for each other; flat ground may be left out of the sun's map."""

from math import radians

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.pane import build_pane
from sidehill.film.render.camera import SUN_HEIGHT
from sidehill.film.render.level import levelling, up
from sidehill.film.render.light import towards
from sidehill.film.render.scene import Scene
from sidehill.flat import flatten
from sidehill.kernels.height import height

SCENARIOS = ("bank-plain", "bank-stone", "bank-rut", "bank-rough", "wet-grass", "tilt-table")


def scene_of(scenario: str, *changes: str) -> Scene:
    scene = build_pane(posed(case_of("bramble", scenario, changes), [0.0] * 3), "x").scene
    assert scene is not None
    return scene


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_a_face_lies_in_the_plane_of_what_it_stands_for(scenario: str) -> None:
    """Corners, normals and places on the ground of each triangle, as its face's plane says."""
    model = scene_of(scenario).model
    stands = model.triangles[model.faces]
    moved = np.flatnonzero(model.faces != np.arange(len(model.faces)))
    assert len(moved) > 1000
    assert (model.finish_of[moved] == model.finish_of[model.faces[moved]]).all()
    assert model.is_flat[moved].all() and model.is_flat[model.faces[moved]].all()
    first, second, third = (model.points[stands[moved, k]] for k in range(3))
    sides = np.stack([second - first, third - first], axis=2)
    for k in range(3):
        row = model.triangles[moved, k]
        assert (model.link_of[row] == model.link_of[stands[moved, 0]]).all()
        gap = model.points[row] - first
        shares = np.linalg.pinv(sides) @ gap[:, :, None]
        assert np.abs((sides @ shares)[:, :, 0] - gap).max() < 1e-4  # in the plane, [m]
        ground = model.ground[stands[moved]]
        steps = np.stack([ground[:, 1] - ground[:, 0], ground[:, 2] - ground[:, 0]], axis=2)
        there = ground[:, 0] + (steps @ shares)[:, :, 0]
        assert np.abs(there - model.ground[row]).max() < 1e-4  # [m] on the ground
        assert np.abs(model.normals[row] - model.normals[stands[moved, 0]]).max() < 1e-5


@pytest.mark.parametrize("shape", ["bump", "hole", "log", "kerb"])
@pytest.mark.parametrize("degrees", [0.0, 14.0, 30.0])
def test_what_hides_the_sun_from_the_ground_is_no_flat_ground(shape: str, degrees: float) -> None:
    """Marched along rays over the height that tyres feel, from places all around a steep one."""
    high = "190 mm" if shape == "log" else "300 mm"
    steep = [f"height={high}", "length=400 mm", "width=600 mm", f"shape={shape}"]
    changes = [f"ground.slope={degrees} deg", *(f"feature.1.{change}" for change in steep)]
    ground = flatten(case_of("bramble", "bank-rut", changes)).ground
    rng, level = np.random.default_rng(5), levelling(up(radians(degrees), 0.0, 1.0))
    hidden = 0
    for _ in range(400):
        row = ground.features[rng.integers(len(ground.features))]
        x, y = row[1] + rng.uniform(-1.0, 1.0), row[2] + rng.uniform(-0.5, 0.5)
        ray = level.T @ towards(rng.uniform(0.0, 6.3), SUN_HEIGHT)
        z = height(x, y, ground)
        for t in np.arange(0.01, 0.6, 0.01):
            there = height(x + t * ray[0], y + t * ray[1], ground)
            if there > z + t * ray[2] + 1e-9:
                hidden += 1
                assert abs(there) > 0.0
                break
    assert hidden > 0
