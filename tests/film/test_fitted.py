"""What tells the machines of a film apart is said, and marked where it is, before they set off."""

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.bar import clock
from sidehill.film.clock import DIFFER, Moment, Tempo
from sidehill.film.frame import camera_now, draw_frame
from sidehill.film.grid import pane_boxes, picture_box, strip_height
from sidehill.film.ink import PAPER
from sidehill.film.quiet import AROUND, ENDS, quiet
from sidehill.film.render.camera import Camera, focal_length
from sidehill.film.render.shapes import Array
from sidehill.film.show import Show, build_show
from sidehill.film.words import built_in

SIZE, FPS = (640, 360), 10
STILL = [0.0] * 4


def show_of(*outfits: dict[str, object]) -> Show:
    records = [posed(case_of("bramble", "bank-plain", (), outfit), STILL) for outfit in outfits]
    names = [f"run {k}" for k in range(len(records))]
    return build_show(records, names, SIZE, FPS, "uphill", Tempo(), None, built_in())


@pytest.mark.parametrize(
    ("outfit", "words", "links"),
    [
        ({"rear_spacer": "76 mm"}, "76 mm (3.0 in)", ("wheel_rear_left", "wheel_rear_right")),
        ({"rear_fill": 0.75}, "0.75", ("wheel_rear_left", "wheel_rear_right")),
        ({"bucket_load": "250 kg"}, "250 kg (551 lb)", ("bucket",)),
        ({"bucket_height": "full"}, "full", ("bucket",)),
        ({"rear_ballast": "250 kg"}, "250 kg (551 lb)", ()),
    ],
)
def test_each_machine_is_marked_where_it_is_different(
    outfit: dict[str, object], words: str, links: tuple[str, ...]
) -> None:
    show = show_of(outfit, {})
    (mark,), bare = show.marks
    assert words in mark.text
    assert [other.text for other in bare] == (
        ["bucket height: carry"] if "bucket_height" in outfit else []
    )  # what a machine goes without is not told of it
    scene = show.panes[0].scene
    assert scene is not None
    places = scene.poses(0.0)[1]
    for link in links:
        at = places[scene.model.links.index(link)]
        assert min(np.linalg.norm(at - place) for place in mark.places) < 0.3
    if not links:  # a box behind the rear axle, nearer to it than the machine is long
        rear = places[scene.model.links.index("wheel_rear_left")]
        (place,) = mark.places
        assert 0.5 < np.linalg.norm(place - rear) < 1.5
    opening = [moment for moment in show.moments if moment.stage == "differ"]
    assert len(opening) == round(DIFFER * FPS) and show.moments[0] == opening[0]


def test_a_run_alone_is_held_against_a_bare_machine() -> None:
    (marks,) = show_of({"rear_ballast": "250 kg", "rear_spacer": "76 mm"}).marks
    assert [mark.text.split(":")[0] for mark in marks] == ["rear spacer", "rear ballast"]
    assert show_of({}).marks == ((),)
    assert show_of({}, {}).moments[0].stage == "run"


def seen_at(point: Array, camera: Camera, width: int, height: int) -> tuple[float, float]:
    """[pixels] of a point in a picture, by a pinhole of the test's own."""
    ray = camera.look[:3] @ (point - camera.eye)
    scale = focal_length(width, height) / ray[2]
    return width / 2 + scale * ray[0], height / 2 + scale * ray[1]


def test_the_ring_is_round_the_part() -> None:
    """Against the same frame a moment later: what is new is paper white, and round the box."""
    show = show_of({"rear_ballast": "250 kg"}, {})
    frames = [
        np.asarray(draw_frame(show, moment), dtype=int)
        for moment in (show.moments[0], Moment(0.0, 1.0, "run"))
    ]
    pane = picture_box(pane_boxes(SIZE, 2)[0], strip_height(SIZE, 2, show.rows))
    (place,) = show.marks[0][0].places
    camera = camera_now(show.panes[0], show.moments[0], show)
    x, y = seen_at(place, camera, pane.width, pane.height)
    white = (np.abs(frames[0] - PAPER).max(axis=2) < 12) & (
        np.abs(frames[1] - PAPER).max(axis=2) > 40
    )
    rows, columns = np.nonzero(white[pane.y : pane.y + pane.height, pane.x : pane.x + pane.width])
    away = np.hypot(rows - y, columns - x)
    ring = away[(away > 6.0) & (away < 40.0)]
    assert len(ring) > 30
    radius = float(np.median(ring))
    assert (np.abs(ring - radius) < 2.5).mean() > 0.6


def lifting(at: float, length: float, end: float) -> Show:
    """A machine that stays still but for a wheel in the air, `length` [s] long from `at` [s]."""
    times = np.arange(0.0, end, 0.01)
    rolls = np.where((times >= at) & (times < at + length), np.radians(4.0), 0.0)
    record = posed(case_of("bramble", "bank-plain"), list(rolls))
    return build_show([record], ["x"], SIZE, FPS, "uphill", Tempo(), None, built_in())


@pytest.mark.parametrize("length", [0.02, 0.2, 1.0])
def test_what_is_quiet_runs_quickly_and_nothing_else(length: float) -> None:
    """Every frame, judged by the rows: near a wheel in the air, and at the ends, never quick."""
    at, end = 8.3, 18.0
    show = lifting(at, length, end)
    run = [moment for moment in show.moments if moment.stage == "run"]
    quick = [moment for moment in run if moment.speed == Tempo().quick]
    last = show.panes[0].end
    for moment in quick:
        assert ENDS < moment.time < last - ENDS
        assert not at - AROUND + 0.1 < moment.time < at + length + AROUND - 0.1
    assert 3.0 < sum(moment.speed for moment in quick) / FPS < last - 2.0 * ENDS
    assert "4 times faster" in clock(quick[0], built_in())
    assert f"{quick[0].time:.2f} s" in clock(quick[0], built_in())


def test_a_slow_roll_is_not_quiet() -> None:
    rolls = list(np.radians(np.linspace(0.0, -12.0, 1000)))  # toward uphill: no wheel comes up
    record = posed(case_of("bramble", "bank-plain"), rolls)
    show = build_show([record], ["x"], SIZE, FPS, "uphill", Tempo(), None, built_in())
    assert quiet(show.panes, show.panes[0].end) == ()
