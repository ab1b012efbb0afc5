"""The rasteriser's laws: every sample once, the nearest wins, nothing tears at the near plane."""

import numpy as np
import pytest
from film.posed import case_of, posed
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.ndimage import binary_dilation, binary_erosion

from sidehill.film.pane import build_pane
from sidehill.film.render.camera import Camera
from sidehill.film.render.clip import perspective
from sidehill.film.render.draw import picture
from sidehill.film.render.level import levelling
from sidehill.film.render.project import NEAR
from sidehill.film.render.raster import NOTHING
from sidehill.film.render.scene import Scene

SIDE, FOCAL = 96, 120.0


EYE = np.eye(4)[None]  # right, down and ahead are x, y and z


def draw(points: np.ndarray, triangles: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Which triangle (SIDE, SIDE) each sample sees, and how near it is."""
    ids, near = np.full((SIDE, SIDE), NOTHING, np.int32), np.zeros((SIDE, SIDE), np.float32)
    seen, order = np.ascontiguousarray(points, float), np.ascontiguousarray(triangles, np.int32)
    count, middle = len(points), SIDE / 2
    perspective(
        seen, EYE, order, np.arange(len(order), dtype=np.int32), FOCAL, middle, middle,
        np.empty((count, 3)), np.empty((count, 2), np.int64), np.empty(count),
        ids, near, np.empty((4, 3)),
    )  # fmt: skip
    return ids, near


def facing(points: np.ndarray, triangle: np.ndarray) -> np.ndarray:
    """The triangle's corners in the order in which it faces the eye."""
    a, b, c = points[triangle]
    return triangle if np.cross(b - a, c - a) @ a < 0.0 else triangle[::-1]


@given(st.lists(st.floats(-0.3, 0.3), min_size=7, max_size=24), st.floats(0.0, 6.3))
@settings(max_examples=60, deadline=None)
def test_a_fan_covers_every_sample_once(shifts: list[float], turn: float) -> None:
    """Triangles round a point: drawn one by one, no sample is in two of them, none is missed."""
    count = len(shifts)
    angles = turn + 2 * np.pi * (np.arange(count) + np.array(shifts)) / count
    rim = 0.33 * np.stack([np.cos(angles), np.sin(angles), np.full(count, 3.0)], axis=1)
    points = np.vstack([[0.003, -0.002, 1.0], rim])
    fan = [facing(points, np.array([0, k, k % count + 1])) for k in range(1, count + 1)]
    alone = [draw(points, triangle[None])[0] != NOTHING for triangle in fan]
    together = draw(points, np.array(fan))[0] != NOTHING
    assert np.sum(alone, axis=0).max() == 1
    assert (np.any(alone, axis=0) == together).all()
    widest = 1.6 * 2 * np.pi / count
    y, x = np.mgrid[:SIDE, :SIDE] + 0.5 - SIDE / 2
    assert together[np.hypot(x, y) < FOCAL / 3.0 * np.cos(widest / 2) - 1.0].all()


def test_coverage_is_the_area() -> None:
    points = np.array([[-0.31, -0.27, 1.0], [0.33, -0.24, 1.0], [0.02, 0.35, 1.0]])
    triangle = facing(points, np.array([0, 1, 2]))
    a, b, c = FOCAL * points[:, :2]
    area = abs((b - a)[0] * (c - a)[1] - (b - a)[1] * (c - a)[0]) / 2
    edge = sum(np.linalg.norm(p - q) for p, q in ((a, b), (b, c), (c, a)))
    seen = (draw(points, triangle[None])[0] != NOTHING).sum()
    assert seen == pytest.approx(area, abs=0.1 * edge)  # [samples]; chance at the edges evens out


def test_the_nearest_is_seen_whatever_the_order() -> None:
    square = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])
    points = np.vstack([np.insert(d * square, 2, d, axis=1) for d in (1.0, 2.0)])
    near, far = (facing(points, np.array([k, k + 1, k + 2])) for k in (0, 4))
    assert (draw(points, np.array([near, far]))[0] != 1).all()
    assert (draw(points, np.array([far, near]))[0] != 0).all()


def test_nearness_is_one_over_distance() -> None:
    points = np.array([[-2.0, -2.0, 1.0], [8.0, -2.0, 4.0], [-2.0, 8.0, 4.0]])
    ids, near = draw(points, facing(points, np.array([0, 1, 2]))[None])
    normal = np.cross(points[1] - points[0], points[2] - points[0])
    y, x = (np.mgrid[:SIDE, :SIDE] + 0.5 - SIDE / 2) / FOCAL
    distance = (normal @ points[0]) / (normal[0] * x + normal[1] * y + normal[2])
    seen = ids != NOTHING
    assert seen.sum() > 1000
    assert near[seen] == pytest.approx(1.0 / distance[seen], rel=1e-3)


@pytest.mark.parametrize("seed", range(60))
def test_a_triangle_through_the_eye_is_cut_not_torn(seed: int) -> None:
    """What is left of a cut triangle is what of it lies beyond the near plane."""
    points = np.random.default_rng(seed).uniform(-1.0, 1.0, (3, 3))
    triangle = facing(points, np.array([0, 1, 2]))
    ids, near = draw(points, triangle[None])
    assert np.isfinite(near).all()
    assert near.max() <= 1.0 / NEAR * (1.0 + 1e-6)
    a, b, c = points[triangle]
    y, x = (np.mgrid[:SIDE, :SIDE] + 0.5 - SIDE / 2) / FOCAL
    rays = np.stack([x.ravel(), y.ravel(), np.ones(SIDE * SIDE)], axis=1)
    matrix = np.stack([a, b, c], axis=1)
    if abs(np.linalg.det(matrix)) < 0.01:  # nearly edge-on: a needle between the samples
        return
    weights = rays @ np.linalg.inv(matrix).T
    total = weights.sum(axis=1)  # 1 / distance along the ray
    exact = (total > 0.0) & (total < 1.0 / NEAR) & (weights.min(axis=1) > 0.0)
    exact, drawn = exact.reshape(SIDE, SIDE), ids != NOTHING
    assert drawn[binary_erosion(exact, np.ones((3, 3)))].all()
    assert not drawn[~binary_dilation(exact, np.ones((5, 5)))].any()


@pytest.fixture(scope="module")
def scene() -> Scene:
    pane = build_pane(posed(case_of("bramble", "bank-plain"), [0.0] * 3), "machine")
    assert pane.scene is not None
    return pane.scene


@pytest.mark.parametrize("share", np.linspace(-1.2, 1.2, 13))
def test_a_camera_passes_through_a_wheel(scene: Scene, share: float) -> None:
    """Along the rear axle, from outside one tyre to inside the gearbox: always a picture."""
    _, shift = scene.levelling(0.0)
    level, _ = scene.levelling(0.0)
    wheel = level @ scene.take.place("wheel_rear_right")[0] + shift
    eye = wheel + level @ np.array([0.05, share * 0.6, 0.03])
    camera = Camera(eye, eye + level @ np.array([0.8, 0.5, -0.1]), np.array([0.0, 0.6, 0.8]))
    pixels = picture(scene, 0.0, camera, 160, 120)
    assert pixels.shape == (120, 160, 3)
    assert pixels.max() > 0


def test_levelling_of_the_flat_is_no_turn() -> None:
    assert (levelling(np.array([0.0, 0.0, 1.0])) == np.eye(3)).all()
