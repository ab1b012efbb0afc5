"""Where the gauge of roll stands once a machine is over: clear of roll bar and head.

Where those meet the ground is what a film of an overturn is watched for. The loads of the wheels
are not shown by then, so both lower corners of the picture are free.
"""

import numpy as np

from sidehill.film.grid import Box, Size, badge_boxes
from sidehill.film.pane import Pane, camera_at
from sidehill.film.render.camera import Stand, focal_length
from sidehill.film.render.scene import Scene
from sidehill.film.render.shapes import Array, Indices

UPPER = 0.62  # of the chassis's height, over which there are roll bar and head
CLOSE = 0.25  # [m] to the ground
LOOKS = 12  # moments of a fall
MARGIN = 0.12  # of the gauge's side, kept free around it


def goes_left(frame: Size, box: Box, pane: Pane, stand: Stand) -> bool:
    """Whether the gauge, which stands at the right, changes sides once the machine is over."""
    if pane.scene is None or pane.over is None:
        return False
    spots = meetings(pane, stand, box.width, box.height) + np.array([box.x, box.y])
    left, right = badge_boxes(frame, box)
    return covered(spots, left) < covered(spots, right)


def covered(spots: Array, badge: Box) -> int:
    """Count of spots (n, 2) [pixels] that a badge covers, or all but does."""
    edge = MARGIN * badge.width
    low = np.array([badge.x - edge, badge.y - edge])
    high = np.array([badge.x + badge.width + edge, badge.y + badge.height + edge])
    return int(((spots > low) & (spots < high)).all(axis=1).sum())


def meetings(pane: Pane, stand: Stand, width: int, height: int) -> Array:
    """(n, 2) [pixels] where roll bar or head is close to the ground, once over."""
    assert pane.scene is not None and pane.over is not None
    scene, spots = pane.scene, [np.zeros((0, 2))]
    upper = upper_points(scene)
    for time in np.linspace(pane.over[1], pane.end, LOOKS):
        turns, places = scene.poses(float(time))
        link = scene.model.link_of[upper]
        points = np.einsum("nij,nj->ni", turns[link], scene.model.points[upper]) + places[link]
        camera = camera_at(pane, float(time), stand)
        near = points[above_ground(scene, points, float(time)) < CLOSE]
        rays = (near - camera.eye) @ camera.look[:3].T
        rays = rays[rays[:, 2] > 0.0]
        scale = focal_length(width, height) / rays[:, 2:]
        spots.append(scale * rays[:, :2] + np.array([width, height]) / 2)
    return np.concatenate(spots)


def upper_points(scene: Scene) -> Indices:
    """(n,) rows of the mesh: roll bar and operator's head, what is highest on the chassis."""
    model = scene.model
    own = np.flatnonzero(model.link_of == model.links.index("chassis")).astype(np.int32)
    heights = model.points[own, 2]
    return np.asarray(own[heights > UPPER * heights.max()])


def above_ground(scene: Scene, points: Array, time: float) -> Array:
    """(n,) [m] of points (n, 3) of the level frame off the ground, bumps left aside."""
    level, shift = scene.levelling(time)
    on_hill = (points - shift) @ level
    if scene.bank is None:
        return np.asarray(on_hill[:, 2])
    rise = np.interp(on_hill[:, :2] @ scene.bank.uphill, scene.bank.up, scene.bank.rise)
    return np.asarray(on_hill[:, 2] - rise)
