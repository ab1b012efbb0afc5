"""Where every link is over time: the film's own poses, and the rows of them that are kept."""

from dataclasses import dataclass
from math import atan2, radians

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.film.pane import Pane
from sidehill.film.render.shapes import Array, Indices
from sidehill.replay.block import steps_of

FOLLOWED = "the way of the camera"  # a link that is not drawn: what every view looks at
PLACE_STEP, TURN_STEP = 0.0002, 1.0 / 32767.0  # [m] and of a quaternion's part, as kept
FURTHEST = 0.00045  # [m] a link may be off after interpolation: 0.5 mm is promised
MOST_TURNED = radians(0.045)  # [rad] the same of its direction: 0.05 deg is promised
LONGEST = 128  # rows between two that are kept


@dataclass(frozen=True)
class Motion:
    """n rows, in the level frame that the film draws in."""

    links: tuple[str, ...]
    times: Array  # (n,) [s]
    places: Array  # (n, links, 3) [m]
    turns: Array  # (n, links, 4) unit quaternions x y z w, neighbours on one side


def motion_of(pane: Pane) -> Motion:
    """Every link of the pane's model, and what its camera follows, at every row of its record."""
    scene = pane.scene
    assert scene is not None
    rows = [scene.poses(float(time)) for time in scene.take.times]
    ways = [followed(pane, float(time)) for time in scene.take.times]
    turns = np.array([[*turn, way[0]] for (turn, _), way in zip(rows, ways, strict=True)])
    places = np.array([[*place, way[1]] for (_, place), way in zip(rows, ways, strict=True)])
    quaternions = Rotation.from_matrix(turns.reshape(-1, 3, 3)).as_quat()
    links = (*scene.model.links, FOLLOWED)
    return Motion(
        links, scene.take.times, places, one_sided(quaternions.reshape(len(rows), len(links), 4))
    )


def followed(pane: Pane, time: float) -> tuple[Array, Array]:
    """Heading (3, 3) and place (3,) [m] on the ground of what the film's camera follows."""
    assert pane.scene is not None
    x, y, along, left = pane.scene.take.at(pane.path, time)
    level, shift = pane.scene.levelling(time)
    ahead = level @ np.array([along, left, 0.0])
    heading = Rotation.from_euler("z", atan2(ahead[1], ahead[0])).as_matrix()
    return heading, level @ np.array([x, y, 0.0]) + shift


def one_sided(turns: Array) -> Array:
    """(n, links, 4) the same rotations, no quaternion on the other side of the one before it."""
    against = np.sum(turns[1:] * turns[:-1], axis=2) < 0.0
    signs = np.where(np.cumsum(against, axis=0) % 2, -1.0, 1.0)
    return np.concatenate([turns[:1], turns[1:] * signs[..., None]])


def kept_rows(motion: Motion) -> Indices:
    """(k,) rows between which the page interpolates: as few as keep every other row within
    `FURTHEST` and `MOST_TURNED` of where it is. First and last are among them."""
    shown = Motion(
        motion.links, motion.times,
        steps_of(motion.places.reshape(len(motion.times), -1), PLACE_STEP).reshape(
            motion.places.shape) * PLACE_STEP,
        unit(np.rint(motion.turns / TURN_STEP)),
    )  # fmt: skip
    kept, last = [0], len(motion.times) - 1
    while kept[-1] < last:
        kept.append(furthest(motion, shown, kept[-1], min(kept[-1] + LONGEST, last)))
    return np.array(kept, dtype=np.int32)


def furthest(motion: Motion, shown: Motion, start: int, end: int) -> int:
    """The last row that `start` can be joined to: reached in growing strides, then narrowed."""
    good, stride = start + 1, 2
    while start + stride <= end and joins(motion, shown, start, start + stride):
        good, stride = start + stride, 2 * stride
    bad = min(start + stride, end + 1)
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if joins(motion, shown, start, middle) else (good, middle)
    return good


def joins(motion: Motion, shown: Motion, start: int, end: int) -> bool:
    """Whether all rows between two that are kept are near enough to the line between these."""
    between = slice(start + 1, end)
    times = motion.times
    share = ((times[between] - times[start]) / (times[end] - times[start]))[:, None, None]
    places = shown.places[start] + share * (shown.places[end] - shown.places[start])
    if np.linalg.norm(places - motion.places[between], axis=2).max() > FURTHEST:
        return False
    turned = arc(shown.turns[start], shown.turns[end], share)
    apart = np.linalg.norm(turned - motion.turns[between], axis=2)  # half the angle, if small
    return bool(2.0 * apart.max() <= MOST_TURNED)


def arc(start: Array, end: Array, share: Array) -> Array:
    """(m, links, 4) on the great circle from one quaternion to the other, at even rate."""
    cosine = np.clip(np.sum(start * end, axis=1), -1.0, 1.0)[None, :, None]
    angle = np.arccos(cosine)
    straight = angle < 1e-6
    sine = np.where(straight, 1.0, np.sin(angle))
    first = np.where(straight, 1.0 - share, np.sin((1.0 - share) * angle) / sine)
    second = np.where(straight, share, np.sin(share * angle) / sine)
    return np.asarray(first * start + second * end)


def unit(turns: Array) -> Array:
    """Quaternions of length one."""
    return np.asarray(turns / np.linalg.norm(turns, axis=-1, keepdims=True))
