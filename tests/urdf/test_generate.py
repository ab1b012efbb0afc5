"""The text itself: its notice, joints, determinism, and what it refuses."""

from collections.abc import Callable
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from urdf.engines import read

from sidehill.files.errors import InputError
from sidehill.machine.fitted import Fitted
from sidehill.machine.linkage import build_linkage
from sidehill.urdf import generate
from sidehill.urdf.inertial import inertial_element, principal


def test_same_machine_same_bytes(fitted: Fitted) -> None:
    assert generate(fitted, build_linkage(fitted)) == generate(fitted, build_linkage(fitted))


def test_notice_comes_first(dress: Callable[..., Fitted]) -> None:
    text = generate(dress(), build_linkage(dress()), visuals=False)
    notice = text.split("-->")[0]
    assert notice.index("<!--") < 60
    assert "sidehill" in notice and dress().machine.source in notice
    assert "Not a permit" in notice


@pytest.mark.parametrize("source", ["weighed -- twice", 'a < b & "c" --->', "Größe", "---"])
def test_any_source_text_stays_readable(dress: Callable[..., Fitted], source: str) -> None:
    fitted = dress()
    odd = replace(fitted, machine=fitted.machine.model_copy(update={"source": source}))
    text = generate(odd, build_linkage(odd), visuals=False)
    assert len(ET.fromstring(text).findall("link")) == len(build_linkage(odd))
    assert "--" not in text.split("<!--")[1].split("-->")[0]


def test_products_of_inertia_are_exact_zeros(fitted: Fitted) -> None:
    robot = ET.fromstring(generate(fitted, build_linkage(fitted), visuals=False))
    for inertia in robot.iter("inertia"):
        assert [float(inertia.get(k, "nan")) for k in ("ixy", "ixz", "iyz")] == [0.0, 0.0, 0.0]


def test_numbers_read_back_as_the_same_doubles(fitted: Fitted) -> None:
    linkage = build_linkage(fitted, moving_loader=True)
    robot = ET.fromstring(generate(fitted, linkage, visuals=False))
    masses = {
        e.get("name"): float(e.find("inertial/mass").get("value")) for e in robot.iter("link")
    }
    joints = {e.find("child").get("link"): e for e in robot.iter("joint")}
    for link in linkage:
        if link.mass > 0.0:
            assert masses[link.name] == link.mass
        if link.joint == "revolute":
            limit = joints[link.name].find("limit").attrib
            assert (float(limit["lower"]), float(limit["upper"])) == (link.lower, link.upper)


def test_joints_turn_the_right_way(dress: Callable[..., Fitted]) -> None:
    """Pin left side up... by the right hand about x; steering left by z; arms up; bucket level."""
    fitted = dress()
    robot = read(generate(fitted, build_linkage(fitted, moving_loader=True), visuals=False))

    def wheel(name: str, **angles: float) -> np.ndarray:
        robot.update_cfg({f"{joint}_joint": angle for joint, angle in angles.items()})
        return robot.get_transform(name)

    level = wheel("wheel_front_left", front_axle=0.0)
    assert wheel("wheel_front_left", front_axle=0.1)[2, 3] > level[2, 3]
    robot.update_cfg({"front_axle_joint": 0.0})
    assert wheel("wheel_front_left", knuckle_left=0.3)[0, 1] < 0.0  # axle's outer end swings back
    low = wheel("bucket", loader_arm=-0.3, bucket=-0.3)
    high = wheel("bucket", loader_arm=0.5, bucket=0.5)
    assert high[2, 3] > low[2, 3]
    np.testing.assert_allclose(high[:3, :3], np.eye(3), atol=1e-12)


def test_fixed_loader_is_where_the_moving_one_goes(dress: Callable[..., Fitted]) -> None:
    fitted = dress(bucket_height="full")
    fixed = read(generate(fitted, build_linkage(fitted), visuals=False))
    moving = read(generate(fitted, build_linkage(fitted, moving_loader=True), visuals=False))
    moving.update_cfg({"loader_arm_joint": fitted.arm_angle, "bucket_joint": fitted.arm_angle})
    for link in ("loader_arm", "bucket"):
        np.testing.assert_allclose(
            fixed.get_transform(link), moving.get_transform(link), rtol=0.0, atol=1e-12
        )


def test_joints_are_frictionless_and_strong(fitted: Fitted) -> None:
    robot = ET.fromstring(generate(fitted, build_linkage(fitted), visuals=False))
    moving = [joint for joint in robot.iter("joint") if joint.get("type") != "fixed"]
    assert len(moving) == 7
    for joint in moving:
        assert joint.find("dynamics").attrib == {"damping": "0.0", "friction": "0.0"}
        assert float(joint.find("limit").get("effort")) >= 1e8


moments = st.floats(0.01, 1e4)
angles = st.tuples(*[st.floats(-3.0, 3.0)] * 3)


@given(a=moments, b=moments, share=st.floats(0.01, 0.99), turn=angles)
def test_principal_frame_is_right_handed_and_gives_the_tensor_back(
    a: float, b: float, share: float, turn: tuple[float, float, float]
) -> None:
    c = abs(a - b) + share * (a + b - abs(a - b))
    frame = Rotation.from_rotvec(turn).as_matrix()
    tensor = frame @ np.diag([a, b, c]) @ frame.T
    tensor = (tensor + tensor.T) / 2
    found, axes = principal(tensor)
    matrix = axes.as_matrix()
    assert np.linalg.det(matrix) == pytest.approx(1.0)
    assert np.linalg.norm(axes.as_rotvec()) < np.radians(125.0)
    np.testing.assert_allclose(
        matrix @ np.diag(found) @ matrix.T, tensor, rtol=0.0, atol=1e-9 * max(a, b, c)
    )
    written = inertial_element("x", 1.0, np.zeros(3), tensor).find("origin").get("rpy")
    read_back = Rotation.from_euler("xyz", [float(v) for v in written.split()]).as_matrix()
    np.testing.assert_allclose(read_back, matrix, rtol=0.0, atol=1e-7)


@pytest.mark.parametrize(
    ("mass", "inertia"),
    [
        (0.0, np.eye(3)),
        (-1.0, np.eye(3)),
        (float("nan"), np.eye(3)),
        (1.0, np.diag([1.0, 1.0, 0.0])),
        (1.0, np.diag([1.0, 1.0, 2.1])),
        (1.0, np.diag([-1.0, 1.0, 1.0])),
    ],
)
def test_impossible_bodies_are_refused(mass: float, inertia: np.ndarray) -> None:
    with pytest.raises(InputError, match="'bucket'"):
        inertial_element("bucket", mass, np.zeros(3), inertia)


def test_massless_leaf_is_refused(dress: Callable[..., Fitted]) -> None:
    fitted = dress()
    *rest, last = build_linkage(fitted)
    with pytest.raises(InputError, match=last.name):
        generate(fitted, (*rest, replace(last, mass=0.0)), visuals=False)


def test_fixed_joint_needs_an_axis_of_the_frame(dress: Callable[..., Fitted]) -> None:
    fitted = dress()
    *rest, last = build_linkage(fitted)
    skew = replace(last, axis=np.array([0.6, 0.8, 0.0]))
    with pytest.raises(InputError, match="fixed about"):
        generate(fitted, (*rest, skew), visuals=False)
