"""Where each visual of a URDF text lies, in the machine frame: parsed, not remembered."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components
from scipy.spatial.transform import Rotation
from urdf.engines import read

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Extent:
    """A visual's bounding box, machine frame, joints as built."""

    link: str
    name: str  # without the link's
    material: str
    low: Array  # (3,) [m]
    high: Array  # (3,) [m]
    volume: float  # [m^3]


@lru_cache(maxsize=64)
def extents(text: str) -> tuple[Extent, ...]:
    """Of every visual in the file, exact for each primitive."""
    robot = ET.fromstring(text)
    visuals = {link.get("name"): link.findall("visual") for link in robot.iter("link")}
    for link in robot.iter("link"):
        for visual in visuals[link.get("name")]:
            link.remove(visual)
    kinematics = read(ET.tostring(robot, encoding="unicode"))
    return tuple(
        _extent(link, visual, kinematics.get_transform(link))
        for link, found in visuals.items()
        for visual in found
    )


def _extent(link: str, visual: ET.Element, frame: Array) -> Extent:
    origin, shape = visual.find("origin").attrib, visual.find("geometry")[0]
    turn = frame[:3, :3] @ Rotation.from_euler("xyz", numbers(origin["rpy"])).as_matrix()
    place = frame[:3, :3] @ numbers(origin["xyz"]) + frame[:3, 3]
    half, volume = _half_extent(shape, turn)
    name = visual.get("name").removeprefix(f"{link} ")
    material = visual.find("material").get("name")
    return Extent(link, name, material, place - half, place + half, volume)


def _half_extent(shape: ET.Element, turn: Array) -> tuple[Array, float]:
    if shape.tag == "box":
        size = numbers(shape.get("size"))
        return np.abs(turn) @ size / 2, float(np.prod(size))
    radius = float(shape.get("radius"))
    if shape.tag == "sphere":
        return np.full(3, radius), 4 / 3 * np.pi * radius**3
    length, axis = float(shape.get("length")), turn[:, 2]
    across = np.sqrt(np.maximum(1.0 - axis**2, 0.0))
    return np.abs(axis) * length / 2 + radius * across, np.pi * radius**2 * length


def numbers(text: str) -> Array:
    """The numbers of one attribute."""
    return np.array([float(word) for word in text.split()])


def adrift(parts: Sequence[Extent], gap: float) -> list[str]:
    """Names of the pieces that no chain of pieces within `gap` [m] joins to the first."""
    low, high = np.array([p.low for p in parts]), np.array([p.high for p in parts]) + gap
    joined = np.all((low[:, None] <= high[None]) & (low[None] <= high[:, None]), axis=2)
    _, island = connected_components(joined, directed=False)
    return [part.name for part, k in zip(parts, island, strict=True) if k != island[0]]


def whole(parts: Sequence[Extent]) -> tuple[Array, Array]:
    """Lowest and highest corner of several."""
    assert parts
    return np.min([p.low for p in parts], axis=0), np.max([p.high for p in parts], axis=0)


def named(parts: Sequence[Extent], *starts: str) -> list[Extent]:
    """Those whose name begins with one of the words."""
    return [part for part in parts if part.name.startswith(starts)]
