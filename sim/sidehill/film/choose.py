"""Which camera sees the event best: each is tried, and what hides the gap is found out."""

from collections.abc import Sequence

import numpy as np

from sidehill.film.events import lowest
from sidehill.film.pane import Pane, camera_at
from sidehill.film.render.camera import VIEWS, Extent, Stand, stand_of
from sidehill.film.render.draw import Canvas, sighted
from sidehill.film.render.shapes import Array

SIDE = 240  # [pixels] height of the pictures that are tried
STEPS = 12  # points looked at up the gap
SLACK = 0.03  # share of the distance by which the grass may be nearer
USUAL = "downhill"  # where nothing lifts


def choose(panes: Sequence[Pane], extent: Extent, width: int, height: int) -> str:
    """Name of the view in which most of the gaps is to be seen; the first of equals.

    Args:
        extent: of the largest machine; width, height: [pixels] of a pane's picture.
    """
    lifting = [pane for pane in panes if pane.daylight is not None]
    if not lifting:
        return USUAL
    wide = round(SIDE * width / height)
    scores = {
        name: sum(visible(pane, stand_of(view, extent, width, height), wide) for pane in lifting)
        for name, view in VIEWS.items()
    }
    return max(scores, key=lambda name: scores[name])


def gap_of(pane: Pane, time: float) -> tuple[Array, Array]:
    """Upper and lower end (3,) [m] of the gap under the pane's first lifted wheel, level frame."""
    assert pane.scene is not None and pane.daylight is not None
    top, gap = lowest(pane.scene, pane.daylight.wheel, time)
    level, shift = pane.scene.levelling(time)
    foot = top - np.array([0.0, 0.0, max(gap, 0.0)])
    return level @ top + shift, level @ foot + shift


def visible(pane: Pane, stand: Stand, wide: int) -> float:
    """[samples] height of the gap in a picture `SIDE` high, less what something hides."""
    assert pane.scene is not None and pane.daylight is not None
    time = pane.daylight.time
    camera = camera_at(pane, time, stand)
    board = sighted(pane.scene, time, camera, wide, SIDE)
    top, foot = gap_of(pane, time)
    shares = (np.arange(STEPS) + 0.5) / STEPS
    spots = project(foot + shares[:, None] * (top - foot), camera.look, board)
    ends = project(np.stack([top, foot]), camera.look, board)
    seen = [is_open(spot, board) for spot in spots]
    return float(np.mean(seen) * np.hypot(*(ends[0] - ends[1])[:2]))


def project(points: Array, look: Array, board: Canvas) -> Array:
    """(n, 3) x and y [samples] of points (n, 3) in the picture, and their distance [m]."""
    rays = (points - look[3]) @ look[:3].T
    on_picture = board.focal * rays[:, :2] / rays[:, 2:] + board.middle
    return np.hstack([on_picture, rays[:, 2:]])


def is_open(spot: Array, board: Canvas, slack: float = SLACK) -> bool:
    """Whether nothing stands before a spot of the picture, but by that share of its distance."""
    x, y = int(spot[0]), int(spot[1])
    inside = spot[2] > 0.0 and 0 <= x < 2 * board.middle[0] and 0 <= y < 2 * board.middle[1]
    return bool(inside and board.near[y, x] * spot[2] <= 1.0 + slack)
