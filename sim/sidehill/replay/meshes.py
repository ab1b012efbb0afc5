"""What stands in a scene, as tables of the page: the film's own mesh, link by link."""

from typing import Any

import numpy as np

from sidehill.film.render.finish import BLUE, GRASSY, GREEN, RED
from sidehill.film.render.model import Model
from sidehill.film.render.shapes import Indices
from sidehill.replay.block import Block

POINT_STEP = 0.0002  # [m]
NORMAL_STEP = 1.0 / 127.0
GROUND_STEP, BARE_STEP = 0.001, 1.0 / 255.0  # [m] places on the ground; bareness
COLOUR_DIGITS = 4


def meshes(model: Model, block: Block) -> list[dict[str, Any]]:
    """A mesh for every link that is drawn, and one more for grass."""
    grassy = model.finishes[:, GRASSY] > 0.0
    link = model.link_of[model.triangles[:, 0]]
    found = []
    for k, name in enumerate(model.links):
        for is_grass in (False, True):
            own = np.flatnonzero((link == k) & (grassy[model.finish_of] == is_grass))
            if len(own):
                found.append({"link": name, **mesh(model, own.astype(np.int32), is_grass, block)})
    return found


def mesh(model: Model, own: Indices, is_grass: bool, block: Block) -> dict[str, Any]:
    """The triangles of some rows, their corners numbered afresh."""
    used, corners = np.unique(model.triangles[own], return_inverse=True)
    skin = np.zeros(len(used), dtype=np.int32)
    skin[corners.reshape(-1)] = np.repeat(model.finish_of[own], 3)
    tables = {
        "points": block.add(model.points[used], POINT_STEP),
        "normals": block.add(model.normals[used], NORMAL_STEP),
        "triangles": block.add(corners.reshape(-1, 3), 1.0),
    }
    if is_grass:
        ground = model.ground[used]
        return tables | {
            "places": block.add(ground[:, :2], GROUND_STEP),
            "bare": block.add(ground[:, 2], BARE_STEP),
        }
    shown, skins = np.unique(skin, return_inverse=True)
    colours = model.finishes[shown][:, [RED, GREEN, BLUE]].round(COLOUR_DIGITS)
    return tables | {"colours": colours.tolist(), "skins": block.add(skins, 1.0)}
