"""The visuals of a URDF text as pieces."""

from xml.etree import ElementTree as ET

import numpy as np
from scipy.spatial.transform import Rotation

from sidehill.files.errors import InputError
from sidehill.film.render.model import Piece
from sidehill.film.render.shapes import Array, Solid, box, cylinder, sphere

Colour = tuple[float, float, float]


def read_pieces(urdf: str) -> list[Piece]:
    """A piece for every visual of a URDF text made of boxes, cylinders and spheres.

    Raises:
        InputError: not URDF, nothing to draw, a shape, size or material that cannot be drawn.
    """
    try:
        robot = ET.fromstring(urdf)
    except ET.ParseError as error:
        raise InputError(f"URDF: not readable XML ({error})") from None
    palette = {m.get("name", ""): _colour(m) for m in robot.iter("material") if len(m) > 0}
    pieces = [
        _piece(link.get("name", ""), visual, palette)
        for link in robot.findall("link")
        for visual in link.findall("visual")
    ]
    if not pieces:
        raise InputError("URDF: no visuals, so nothing to draw; generate it with visuals")
    return pieces


def _piece(link: str, visual: ET.Element, palette: dict[str, Colour]) -> Piece:
    where = f'URDF link "{link}", visual "{visual.get("name", "unnamed")}"'
    material = visual.find("material")
    name = material.get("name", "") if material is not None else ""
    if name not in palette:
        raise InputError(f'{where}: material "{name}" has no colour in the URDF')
    solid = _placed(visual, where)
    return Piece(link, name, palette[name], solid.points, solid.normals, solid.triangles)


def _placed(visual: ET.Element, where: str) -> Solid:
    """The visual's solid in the frame of its link."""
    solid = _solid(visual.find("geometry"), where)
    origin = visual.find("origin")
    if origin is None:
        return solid
    place = _numbers(origin.get("xyz", "0 0 0"), 3, where)
    turn = Rotation.from_euler("xyz", _numbers(origin.get("rpy", "0 0 0"), 3, where))
    return Solid(turn.apply(solid.points) + place, turn.apply(solid.normals), solid.triangles)


def _solid(geometry: ET.Element | None, where: str) -> Solid:
    shape = geometry[0] if geometry is not None and len(geometry) else None
    if shape is not None and shape.tag == "box":
        return box(_sizes(shape, "size", 3, where))
    if shape is not None and shape.tag == "cylinder":
        (radius,), (length,) = (_sizes(shape, key, 1, where) for key in ("radius", "length"))
        return cylinder(float(radius), float(length))
    if shape is not None and shape.tag == "sphere":
        return sphere(float(_sizes(shape, "radius", 1, where)[0]))
    found = "nothing" if shape is None else f"a {shape.tag}"
    raise InputError(f"{where}: holds {found}; allowed: box, cylinder, sphere")


def _sizes(shape: ET.Element, key: str, count: int, where: str) -> Array:
    """Lengths [m] of a shape, all above zero."""
    sizes = _numbers(shape.get(key, ""), count, where)
    if not (sizes > 0.0).all():
        raise InputError(f"{where}: {key} is {shape.get(key)}; allowed: above 0 m")
    return sizes


def _colour(material: ET.Element) -> Colour:
    colour = material.find("color")
    text = colour.get("rgba", "") if colour is not None else ""
    red, green, blue, _ = _numbers(text, 4, f'URDF material "{material.get("name", "unnamed")}"')
    return float(red), float(green), float(blue)


def _numbers(text: str, count: int, where: str) -> Array:
    try:
        values = np.array([float(word) for word in text.split()])
    except ValueError:
        values = np.zeros(0)
    if len(values) != count or not np.isfinite(values).all():
        raise InputError(f'{where}: "{text}" is not {count} finite numbers')
    return values
