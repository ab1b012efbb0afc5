"""What is drawn is where the record says, as a pinhole camera sees it."""

from math import radians, tan
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from film.posed import case_of, posed
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from sidehill.film.pane import Pane, build_pane, camera_at, extent_of
from sidehill.film.render.camera import FIELD, VIEWS, Camera, stand_of
from sidehill.film.render.draw import sighted
from sidehill.film.render.level import levelling, up
from sidehill.film.take import slerp
from sidehill.machine.linkage import WHEELS
from sidehill.run.record import Record, simulate

WIDTH, HEIGHT = 640, 480
DOT = 0.012  # [m] radius of what marks a wheel's centre


def with_dots(record: Record) -> Record:
    """The record with nothing to draw but a small ball at the centre of chassis and wheels."""
    robot = ET.fromstring(record.meta["urdf"])
    for link in robot.findall("link"):
        for visual in link.findall("visual"):
            link.remove(visual)
        if link.get("name", "").startswith("wheel_") or link.get("name") == "chassis":
            visual = ET.SubElement(link, "visual", name="dot")
            sphere = ET.SubElement(ET.SubElement(visual, "geometry"), "sphere")
            sphere.set("radius", str(DOT))
            ET.SubElement(visual, "material", name="plum")
    return Record(record.columns, record.meta | {"urdf": ET.tostring(robot, encoding="unicode")})


def pinhole(point: np.ndarray, eye: np.ndarray, target: np.ndarray) -> np.ndarray:
    """(2,) pixel of a point; textbook pinhole, written without the drawing's own code."""
    ahead = (target - eye) / np.linalg.norm(target - eye)
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    above = np.cross(right, ahead)
    ray = point - eye
    focal = min(WIDTH, HEIGHT) / 2 / tan(FIELD / 2)
    x, y = focal * (ray @ right) / (ray @ ahead), focal * (ray @ above) / (ray @ ahead)
    return np.array([WIDTH / 2 + x, HEIGHT / 2 - y])


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("downhill", ["right", "left"])
def test_wheel_centres_are_within_a_pixel_of_the_record(view: str, downhill: str) -> None:
    case = case_of("bramble", "bank-plain", [f"ground.downhill={downhill}", "ground.grade=6 deg"])
    record = posed(case, list(np.linspace(0.0, radians(9.0), 9)))
    pane, whole = build_pane(with_dots(record), "dots"), build_pane(record, "machine")
    time = 0.0437  # between two rows
    stand = stand_of(VIEWS[view], extent_of([whole]), WIDTH, HEIGHT)
    camera = camera_at(whole, time, stand)
    for wheel in WHEELS:
        found = spot(pane, f"wheel_{wheel}", time, camera)
        assert found is not None, f"{wheel} is nowhere in the picture"
        place = level_place(record, f"wheel_{wheel}", time)
        assert np.hypot(*(found - pinhole(place, camera.eye, camera.target))) < 1.0


def spot(pane: Pane, link: str, time: float, camera: Camera) -> np.ndarray | None:
    """(2,) pixel of the middle of what is seen of a link, from the visibility buffer."""
    assert pane.scene is not None
    model = pane.scene.model
    ids = sighted(pane.scene, time, camera, WIDTH, HEIGHT).ids
    own = np.flatnonzero(model.link_of[model.triangles[:, 0]] == model.links.index(link))
    rows, columns = np.nonzero(np.isin(ids, own))
    return np.array([columns.mean() + 0.5, rows.mean() + 0.5]) / 2 if len(rows) else None


def level_place(record: Record, link: str, time: float) -> np.ndarray:
    """(3,) [m] of a link at a time, turned so that gravity points down; no drawing code."""
    ground = record.meta["case"]["scenario"]["ground"]
    side = 1.0 if ground["downhill"] == "right" else -1.0
    gravity = np.array([-tan(ground["grade"]), -side * tan(ground["slope"]), -1.0])
    gravity /= np.linalg.norm(gravity)
    axis = np.cross(gravity, [0.0, 0.0, -1.0])
    turn = Rotation.from_rotvec(np.arccos(-gravity[2]) * axis / np.linalg.norm(axis))
    rows = record.columns
    place = [np.interp(time, rows["t_s"], rows[f"{link}_{axis}_m"]) for axis in "xyz"]
    return np.asarray(turn.apply(place))


@given(st.floats(0.0, 1.0), st.floats(-0.5, 0.5), st.sampled_from([1.0, -1.0]))
def test_the_level_frame_has_gravity_downward(slope: float, grade: float, side: float) -> None:
    gravity = np.array([-tan(grade), -side * tan(slope), -1.0])
    turned = levelling(up(slope, grade, side)) @ (gravity / np.linalg.norm(gravity))
    assert np.allclose(turned, [0.0, 0.0, -1.0], atol=1e-12)


@given(st.floats(0.0, 1.0), st.floats(0.01, 3.0))
def test_interpolation_turns_at_an_even_rate(share: float, angle: float) -> None:
    axis = np.array([0.6, 0.0, 0.8])
    ends = [Rotation.from_rotvec(a * axis).as_quat() for a in (0.3, 0.3 + angle)]
    between = slerp(ends[0][None], ends[1][None], share)[0]
    assert np.allclose(between, Rotation.from_rotvec((0.3 + share * angle) * axis).as_matrix())


def test_the_level_mark_shows_the_roll_that_the_run_recorded() -> None:
    record = simulate(case_of("bramble", "bank-stone", ["course.length=6 m"]), "mujoco")
    pane = build_pane(record, "run")
    assert pane.scene is not None
    for k in range(0, len(record.columns["t_s"]), 37):
        drawn = np.degrees(pane.scene.roll(float(record.columns["t_s"][k])))
        assert drawn == pytest.approx(record.columns["roll_horizon_deg"][k], abs=1e-6)
