"""Scene and camera to pixels. Nothing else goes in: same scene, same time, same pixels."""

from threading import local

import numpy as np
from numpy.typing import NDArray

from sidehill.film.render import clip, project, raster, shadow
from sidehill.film.render.camera import Camera, focal_length
from sidehill.film.render.caster import Caster
from sidehill.film.render.grass import grass
from sidehill.film.render.light import FIRST_RAY, RAY_SIDE, RAYS, SUN, SUN_SIDE, looks
from sidehill.film.render.mesh import Block, Faces, Light, Mesh, Nearness
from sidehill.film.render.plan import PLAN
from sidehill.film.render.resolve import resolve, tones
from sidehill.film.render.scene import Scene
from sidehill.film.render.shade import LIE, TINT
from sidehill.film.render.shapes import Array
from sidehill.film.render.sky import skyline

Pixels = NDArray[np.uint8]

KEPT = 3  # canvases of a thread: two sizes of pane, and the close picture of daylight

_own = local()  # a canvas is written on by one thread at a time


class Canvas:
    """Everything that is written while drawing one size of picture, kept for the next one."""

    def __init__(self, width: int, height: int, points: int, triangles: int) -> None:
        wide = -(-2 * width // raster.LANES) * raster.LANES  # whole lanes
        self.ids = np.empty((2 * height, wide), np.int32)
        self.near = np.empty((2 * height, wide), np.float32)
        self.sun_map = np.empty((1, SUN_SIDE, SUN_SIDE), np.float32)
        self.ray_maps = np.empty((RAYS, RAY_SIDE, RAY_SIDE), np.float32)
        self.middle = float(width), float(height)  # [samples]
        self.focal = 2.0 * focal_length(width, height)  # [samples]
        self.points, self.normals, self.seen = (np.empty((points, 3)) for _ in range(3))
        self.places, self.nearness = np.empty((points, 2), np.int64), np.empty(points)
        self.corner = np.empty((4, 3))
        self.faces = Faces(
            known=np.empty(triangles, np.bool_),
            plans=np.empty((triangles, PLAN)),
        )
        self.block = Block(
            names=np.empty(16, np.int32),
            spots=np.empty((16, 4)),
            cover=np.empty((16, 4)),
            tint=np.zeros((3, TINT)),
            lie=np.zeros(LIE),
            sums=np.empty((4, 3)),
        )


def canvas(scene: Scene, width: int, height: int) -> Canvas:
    """This thread's canvas for that size and scene."""
    boards: dict[tuple[int, ...], Canvas] = _own.__dict__.setdefault("boards", {})
    key = width, height, len(scene.model.points), len(scene.model.triangles)
    if key not in boards:
        while len(boards) >= KEPT:
            del boards[next(iter(boards))]
        boards[key] = Canvas(*key)
    return boards[key]


def pose(scene: Scene, time: float, board: Canvas) -> None:
    """The scene's mesh at a time, level frame."""
    turns, places = scene.poses(time)
    model = scene.model
    project.place(
        model.points, model.normals, model.link_of, turns, places, board.points, board.normals
    )


def identify(scene: Scene, stack: Array, board: Canvas) -> None:
    """Which face each sample sees through the camera; `raster.NOTHING` for the sky."""
    board.ids.fill(raster.NOTHING)
    board.near.fill(0.0)
    clip.perspective(
        board.points, stack, scene.model.triangles, scene.model.faces, board.focal, *board.middle,
        board.seen, board.places, board.nearness, board.ids, board.near, board.corner,
    )  # fmt: skip


def sighted(scene: Scene, time: float, camera: Camera, width: int, height: int) -> Canvas:
    """A canvas on which is found out what each sample sees, and no more."""
    board = canvas(scene, width, height)
    pose(scene, time, board)
    identify(scene, looks(camera.look, camera.sun, camera.target), board)
    return board


def draw_shadows(of: Caster, first: int, stack: Array, board: Canvas, maps: Nearness) -> None:
    """The maps of looks from `first` on."""
    own = board.points[of.rows]
    shadow.draw_maps(first, own, stack, of.triangles, board.places, board.nearness, maps)


def picture(scene: Scene, time: float, camera: Camera, width: int, height: int) -> Pixels:
    """(height, width, 3) of a scene at a time [s]; both sizes even."""
    board, model = canvas(scene, width, height), scene.model
    stack = looks(camera.look, camera.sun, camera.target)
    pose(scene, time, board)
    identify(scene, stack, board)
    draw_shadows(model.against_sun, SUN, stack, board, board.sun_map)
    draw_shadows(model.against_sky, FIRST_RAY, stack, board, board.ray_maps)
    mesh = Mesh(
        board.seen, board.normals, model.ground, model.triangles, model.finish_of,
        model.finishes, model.is_flat,
    )  # fmt: skip
    light = Light(
        stack, board.focal, board.sun_map, board.ray_maps, grass(), skyline(), scene.setting.wet
    )
    board.faces.known.fill(False)
    out = np.empty((height, width, 3), np.uint8)
    resolve(mesh, light, board.faces, board.block, board.ids, board.near, tones(), out)
    return out
