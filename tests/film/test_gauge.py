"""Once a machine is over, its gauge leaves to be seen where roll bar and head meet the ground."""

import numpy as np
import pytest
from film.posed import case_of
from PIL import Image

from sidehill.case import Case
from sidehill.film.clock import Tempo
from sidehill.film.grid import badge_boxes, pane_boxes, picture_box, strip_height
from sidehill.film.ink import ALARM, AMBER, PAPER
from sidehill.film.overlay import draw_badges
from sidehill.film.pane import Pane, build_pane, camera_at
from sidehill.film.render.camera import VIEWS, focal_length
from sidehill.film.show import Show, build_show
from sidehill.film.words import built_in
from sidehill.run.record import Record, simulate

SIZES = ((1280, 720), (720, 1280), (480, 270))
TOUCHING = 0.10  # [m]


def fallen(downhill: str) -> Record:
    outfit: dict[str, object] = {"bucket_load": "250 kg"}
    changes = [f"ground.downhill={downhill}", "ground.slope=20 deg"]
    case: Case = case_of("bramble", "raise-on-bank", changes, outfit)
    return simulate(case, "compiled")


@pytest.fixture(scope="module", params=["right", "left"])
def record(request: pytest.FixtureRequest) -> Record:
    return fallen(request.param)


def touching(pane: Pane, time: float) -> np.ndarray:
    """(n, 3) [m] of the level frame: top of the roll bar and helmet, where close to the bank."""
    assert pane.scene is not None and pane.scene.bank is not None
    model, bank = pane.scene.model, pane.scene.bank
    turns, places = pane.scene.poses(time)
    chassis = model.links.index("chassis")
    own = model.points[(model.link_of == chassis) & (model.points[:, 2] > 1.45)]
    points = own @ turns[chassis].T + places[chassis]
    level, shift = pane.scene.levelling(time)
    heights = np.array([bank.above(level.T @ (point - shift)) for point in points])
    return np.asarray(points[heights < TOUCHING])


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("size", SIZES)
def test_the_gauge_covers_nothing_of_it(record: Record, view: str, size: tuple[int, int]) -> None:
    show: Show = build_show([record, record], ["a", "b"], size, 10, view, Tempo(), None, built_in())
    pane, box = show.panes[1], pane_boxes(size, 2)[1]
    box = picture_box(box, strip_height(size, 2, show.rows))
    left, right = badge_boxes(size, box)
    badge = left if show.gauge_left[1] else right
    assert pane.over is not None
    met = 0
    for time in np.linspace(pane.over[1], pane.end, 8):
        points = touching(pane, float(time))
        met += len(points)
        camera = camera_at(pane, float(time), show.stand)
        rays = (points - camera.eye) @ camera.look[:3].T
        scale = focal_length(box.width, box.height) / rays[:, 2:]
        spots = scale * rays[:, :2] + np.array([box.x + box.width / 2, box.y + box.height / 2])
        inside = (
            (spots[:, 0] > badge.x) & (spots[:, 0] < badge.x + badge.width)
            & (spots[:, 1] > badge.y) & (spots[:, 1] < badge.y + badge.height)
        )  # fmt: skip
        assert not inside.any(), f"{inside.sum()} points at {time:.2f} s"
    assert met > 0


def inks(pane: Pane, time: float) -> set[tuple[int, int, int]]:
    """Colours of the level gauge at a time, drawn on nothing."""
    image = Image.new("RGB", (480, 270))
    box = picture_box(pane_boxes((480, 270), 1)[0], 0)
    draw_badges(image, box, pane, time, False, built_in())
    gauge = badge_boxes((480, 270), box)[1]
    return {tuple(colour) for colour in np.asarray(image.crop(gauge.corners)).reshape(-1, 3)}


def test_it_is_amber_with_a_wheel_up_and_red_once_it_goes_over(record: Record) -> None:
    pane = build_pane(record, "a")
    assert pane.over is not None and pane.scene is not None
    take = pane.scene.take
    up = (take.loads <= 0.0).any(axis=1)
    before = take.times < pane.over[0]
    lifted, loaded = (float(take.times[rows][-1]) for rows in (before & up, before & ~up))
    for time, ink in ((loaded, PAPER), (lifted, AMBER), (pane.over[1], ALARM)):
        seen = inks(pane, time)
        assert ink in seen
        assert not seen & {other for other in (AMBER, ALARM) if other != ink}
