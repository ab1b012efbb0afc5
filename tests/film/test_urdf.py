"""URDF visuals to triangles: closed, outward, smooth where round; and what is refused."""

from math import pi

import numpy as np
import pytest
from film.posed import case_of, posed
from hypothesis import given
from hypothesis import strategies as st

from sidehill.files.errors import InputError
from sidehill.film.render.model import join
from sidehill.film.render.shapes import FLATNESS, Solid, box, cylinder, sphere
from sidehill.film.render.visuals import read_pieces

SIZE = st.floats(0.01, 3.0)

URDF = """<robot name="r">
<material name="plum"><color rgba="0.3 0.1 0.3 1"/></material>
<link name="chassis"><visual name="v"><origin xyz="1 2 3" rpy="0 0 1.5"/>
<geometry>{shape}</geometry><material name="{material}"/></visual></link></robot>"""
BOX = '<box size="1 2 3"/>'


def volume(solid: Solid) -> float:
    """[m^3] by the divergence theorem: negative if the corners run the wrong way round."""
    a, b, c = (solid.points[solid.triangles[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6)


def closed(solid: Solid) -> bool:
    """Whether every edge has two sides, once in each direction."""
    _, place = np.unique(np.round(solid.points, 9), axis=0, return_inverse=True)
    corners = place.ravel()[solid.triangles]
    edges = np.concatenate([corners[:, [0, 1]], corners[:, [1, 2]], corners[:, [2, 0]]])
    forward, back = (np.unique(e, axis=0, return_counts=True) for e in (edges, edges[:, ::-1]))
    return bool((forward[0] == back[0]).all() and (forward[1] == 1).all())


@given(SIZE, SIZE, SIZE)
def test_a_box_is_closed_and_holds_its_volume(x: float, y: float, z: float) -> None:
    solid = box(np.array([x, y, z]))
    assert closed(solid)
    assert volume(solid) == pytest.approx(x * y * z)


@given(SIZE, SIZE)
def test_a_cylinder_is_closed_and_nearly_round(radius: float, length: float) -> None:
    solid = cylinder(radius, length)
    assert closed(solid)
    assert 0.9 < volume(solid) / (pi * radius**2 * length) < 1.0
    middles = solid.points[solid.triangles].mean(axis=1)
    sides = np.abs(middles[:, 2]) < 0.49 * length
    flat = np.hypot(*middles[sides, :2].T).min()
    assert radius - flat < max(2.0 * FLATNESS, 0.05 * radius)


@given(SIZE)
def test_a_ball_is_closed_and_nearly_round(radius: float) -> None:
    solid = sphere(radius)
    assert closed(solid)
    assert 0.8 < volume(solid) / (4 / 3 * pi * radius**3) < 1.0


@pytest.mark.parametrize("solid", [box(np.array([1.0, 2.0, 3.0])), cylinder(1.0, 2.0), sphere(1.0)])
def test_normals_point_outward(solid: Solid) -> None:
    a, b, c = (solid.points[solid.triangles[:, k]] for k in range(3))
    faces = np.cross(b - a, c - a)
    for k in range(3):
        assert (np.einsum("ij,ij->i", faces, solid.normals[solid.triangles[:, k]]) > 0.0).all()


def test_a_ring_of_boxes_shades_as_if_round() -> None:
    """Corners that meet at 15 deg share a normal; those of a right angle do not."""
    record = posed(case_of("bramble", "bank-plain"), [0.0] * 3)
    pieces = [p for p in read_pieces(record.meta["urdf"]) if p.link == "wheel_rear_left"]
    tyres = join([p for p in pieces if p.material == "tyre"])
    before = np.concatenate([p.normals for p in pieces if p.material == "tyre"])
    turned = np.degrees(np.arccos(np.clip((before * tyres.normals).sum(axis=1), -1.0, 1.0)))
    assert 7.0 < turned.max() < 8.0
    assert np.allclose(np.linalg.norm(tyres.normals, axis=1), 1.0)


def test_pieces_stand_where_their_origin_says() -> None:
    (piece,) = read_pieces(URDF.format(shape=BOX, material="plum"))
    assert np.allclose(piece.points.mean(axis=0), [1.0, 2.0, 3.0])
    assert piece.colour == (0.3, 0.1, 0.3)


@pytest.mark.parametrize(
    ("urdf", "told"),
    [
        ("not xml", "XML"),
        ("<robot/>", "nothing to draw"),
        (URDF.format(shape='<mesh filename="x"/>', material="plum"), "a mesh"),
        (URDF.format(shape="", material="plum"), "nothing"),
        (URDF.format(shape='<box size="1 2"/>', material="plum"), "not 3 finite numbers"),
        (URDF.format(shape='<box size="1 2 x"/>', material="plum"), "not 3 finite numbers"),
        (URDF.format(shape='<box size="1 2 nan"/>', material="plum"), "not 3 finite numbers"),
        (URDF.format(shape='<cylinder radius="0" length="1"/>', material="plum"), "above 0"),
        (URDF.format(shape=BOX, material="gold"), '"gold" has no colour'),
    ],
)
def test_what_cannot_be_drawn_is_refused(urdf: str, told: str) -> None:
    with pytest.raises(InputError, match="URDF") as error:
        read_pieces(urdf)
    assert told in str(error.value)
