"""Scene and camera to pixels. Nothing else goes in: same scene, same time, same pixels."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render import project, raster, shadow
from sidehill.film.render.camera import Camera, focal_length
from sidehill.film.render.grass import grass
from sidehill.film.render.light import CAMERA, RAY_SIDE, RAYS, SUN_SIDE, looks
from sidehill.film.render.resolve import resolve, tones
from sidehill.film.render.scene import Scene
from sidehill.film.render.shapes import Array, Indices

Pixels = NDArray[np.uint8]


class Canvas:
    """Everything that is written while drawing one size of picture, kept for the next one."""

    def __init__(self, width: int, height: int) -> None:
        self.ids = np.empty((2 * height, 2 * width), np.int32)
        self.near = np.empty((2 * height, 2 * width), np.float32)
        self.sun_map = np.empty((SUN_SIDE, SUN_SIDE), np.float32)
        self.ray_maps = np.empty((RAYS, RAY_SIDE, RAY_SIDE), np.float32)
        self.map_ids = np.empty((SUN_SIDE, SUN_SIDE), np.int32)
        self.corner = np.empty((4, 3))
        self.names = np.empty(4, np.int32)
        self.spots = np.empty((4, 3))
        self.known = np.empty(2)
        self.focal = 2.0 * focal_length(width, height)  # [samples]


@lru_cache(maxsize=4)
def canvas(width: int, height: int) -> Canvas:
    """The canvas of that size."""
    return Canvas(width, height)


def posed(scene: Scene, time: float) -> tuple[Array, Array]:
    """Points (n, 3) [m] and normals of the scene's mesh at a time, level frame."""
    turns, places = scene.poses(time)
    points, normals = np.empty_like(scene.model.points), np.empty_like(scene.model.normals)
    model = scene.model
    project.place(model.points, model.normals, model.link_of, turns, places, points, normals)
    return points, normals


def identify(scene: Scene, points: Array, look: Array, board: Canvas) -> Indices:
    """(2h, 2w) which triangle each sample sees; `raster.NOTHING` for the sky."""
    seen = np.empty_like(points)
    board.ids.fill(raster.NOTHING)
    board.near.fill(0.0)
    project.look(points, look[None], CAMERA, seen)
    raster.perspective(
        seen, scene.model.triangles, board.focal, board.ids, board.near, board.corner
    )
    return board.ids


def picture(scene: Scene, time: float, camera: Camera, width: int, height: int) -> Pixels:
    """(height, width, 3) of a scene at a time [s]; both sizes even."""
    board, model = canvas(width, height), scene.model
    points, normals = posed(scene, time)
    stack = looks(camera.look, camera.sun, camera.target)
    ids = identify(scene, points, camera.look, board)
    board.sun_map.fill(shadow.FARTHEST)
    board.ray_maps.fill(shadow.FARTHEST)
    shadow.draw_shadows(
        stack, points, model.triangles, model.triangles[model.bulky], np.empty_like(points),
        board.map_ids, board.sun_map, board.ray_maps,
    )  # fmt: skip
    out = np.empty((height, width, 3), np.uint8)
    resolve(
        stack, ids, board.focal, scene.setting.wet,
        points, normals, model.ground, model.triangles, model.finish_of, model.finishes,
        board.sun_map, board.ray_maps, grass(), tones(),
        board.names, board.spots, board.known, out,
    )  # fmt: skip
    return out
