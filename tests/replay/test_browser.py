"""A replay in a browser: nothing asked for, all drawn, turned, scrubbed and reached by key."""

from collections.abc import Iterator
from math import degrees
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from replay.conftest import TITLES
from replay.screen import DRAWN, LINKS, changed, picture, plum, ready, settled
from scipy.spatial.transform import Rotation
from sheet.browser import LAPTOP, PHONE, browser, complaints, violations

from sidehill.film.pane import build_pane
from sidehill.run.record import Record

PLACE, TURN = 0.001, 0.05  # [m], [deg] from the film's own
STEP = 0.02  # [s]


@pytest.fixture(scope="module")
def page(file: Path) -> Iterator[Any]:
    with browser(*DRAWN) as started:
        yield ready(started, file)


@pytest.fixture(autouse=True)
def as_opened(request: pytest.FixtureRequest) -> Iterator[None]:
    """Every test finds the page at its start, side by side, from the first view of its list."""
    if "page" in request.fixturenames:
        page = request.getfixturevalue("page")
        page.set_viewport_size(LAPTOP)
        settled(page, "replay.layOver(false); replay.match(false); replay.seek(0); replay.look(0)")
        if page.evaluate("replay.isContrast"):
            settled(page, "replay.contrast()")
    yield


def test_nothing_is_said_or_fetched_and_no_name_runs(page: Any, file: Path) -> None:
    settled(page, "replay.seek(2)")
    assert page.evaluate("document.documentElement.dataset.ready") == "drawn"
    assert complaints(page, file) == []
    assert page.title() == f"{' | '.join(TITLES)}: replay"
    shown = page.locator(".pane .name").all_text_contents()
    assert shown == TITLES


def test_every_link_is_where_the_film_has_it(page: Any, runs: list[Record]) -> None:
    panes = [build_pane(record, "run") for record in runs]
    for time in np.linspace(0.0, min(pane.end for pane in panes), 20):
        for links, pane in zip(page.evaluate(LINKS, float(time)), panes, strict=True):
            assert pane.scene is not None
            turns, places = pane.scene.poses(float(time))
            assert [name for name, _, _ in links[:-1]] == list(pane.scene.model.links)
            for (name, place, turn), matrix, point in zip(links, turns, places, strict=False):
                assert np.linalg.norm(np.subtract(place, point)) < PLACE, name
                apart = Rotation.from_quat(turn).inv() * Rotation.from_matrix(matrix)
                assert degrees(float(apart.magnitude())) < TURN, name


def test_a_machine_in_every_pane_moves_and_turns(page: Any) -> None:
    settled(page, "replay.seek(0)")
    for run in range(len(TITLES)):
        settled(page, "replay.seek(0)")
        first = picture(page, run)
        assert plum(first) > 0.01 * first.shape[0] * first.shape[1]
        settled(page, "replay.seek(3)")
        later = picture(page, run)
        assert plum(later) > 0.01 * first.shape[0] * first.shape[1]
        assert changed(first, later) > 0.02
        settled(page, "replay.turn(0.6, 0.1)")
        turned = picture(page, run)
        assert changed(later, turned) > 0.05
        settled(page, "replay.look(0)")
        assert changed(later, picture(page, run)) < 0.005  # reset puts it back


def test_ghosts_lie_over_each_other_by_time_and_by_place(page: Any) -> None:
    settled(page, "replay.seek(3)")
    alone = picture(page, 0)
    settled(page, "replay.layOver(true)")
    assert page.locator('.pane[data-run="1"] .view').is_hidden()
    seen = picture(page, 0)
    red, green, blue = np.moveaxis(seen, 2, 0)
    teal = (green > red + 25) & (blue > red + 25) & (np.abs(green - blue) < 40)
    assert teal.mean() > 0.005  # the second run's colour
    assert alone.shape != seen.shape  # one wide picture
    settled(page, "replay.match(true)")
    ways = page.evaluate(
        """replay.runs.map((run, k) => { run.rows.find(replay.matcher.times[k]);
             return run.rows.value(run.path); })"""
    )
    lead = page.evaluate("replay.matcher.furthest[0][replay.runs[0].rows.row]")
    assert ways[1] == pytest.approx(lead, abs=0.05)


def test_everything_by_keyboard(page: Any) -> None:
    page.locator("#stage").focus()
    press = page.keyboard.press
    press(".")
    assert page.evaluate("replay.clock.time") == pytest.approx(STEP)
    press(",")
    press("m")
    moments = page.evaluate("replay.runs.flatMap((run) => run.moments.map((m) => m.time))")
    assert page.evaluate("replay.clock.time") == pytest.approx(min(moments))
    press("n")
    for number in (5, 4, 3, 2):
        press(str(number))
        assert page.evaluate("replay.orbit.number") == number - 1
    before = page.evaluate("[replay.orbit.bearing, replay.orbit.elevation, replay.orbit.zoom]")
    for key in ("ArrowLeft", "ArrowUp", "+"):
        press(key)
    after = page.evaluate("[replay.orbit.bearing, replay.orbit.elevation, replay.orbit.zoom]")
    assert all(old != new for old, new in zip(before, after, strict=True))
    press("0")
    assert page.evaluate("[replay.orbit.bearing, replay.orbit.zoom]") == [before[0], 1]
    for key, state in (("g", "isOver"), ("c", "isContrast")):
        press(key)
        assert page.evaluate(f"replay.{state}")
        press(key)
        assert not page.evaluate(f"replay.{state}")
    press(" ")
    assert page.evaluate("replay.clock.isPlaying")
    press(" ")
    page.evaluate("replay.seek(1)")
    page.locator("#scrub").focus()
    press("ArrowRight")
    assert page.evaluate("replay.clock.time") == pytest.approx(1.0 + STEP)


def test_every_control_is_reached_by_tab_and_named(page: Any) -> None:
    page.evaluate("document.body.focus(); document.activeElement.blur()")
    reached = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.add(page.evaluate("document.activeElement.outerHTML.slice(0, 120)"))
    wanted = page.evaluate(
        """[...document.querySelectorAll('button, input, select, [tabindex="0"], summary')]
           .filter((e) => e.offsetParent && !e.disabled).map((e) => e.outerHTML.slice(0, 120))"""
    )
    assert set(wanted) <= reached
    assert len(wanted) > 20


def test_a_run_plays_at_the_speed_it_is_given(page: Any) -> None:
    """Ten real seconds at 1/20: half a second; from the end it starts again and loops."""
    settled(page, "replay.seek(0); replay.clock.speed = 0.05; replay.clock.isPlaying = true")
    page.evaluate("replay.clock.time = 1; replay.clock.advance(10)")
    assert page.evaluate("replay.clock.time") == pytest.approx(1.5, abs=0.05)
    page.evaluate(
        "replay.clock.speed = 1; replay.clock.isLooping = true; replay.clock.advance(1e3)"
    )
    assert page.evaluate("replay.clock.isPlaying")
    page.evaluate("replay.clock.isLooping = false; replay.clock.advance(1e3)")
    assert not page.evaluate("replay.clock.isPlaying")
    assert page.evaluate("replay.clock.time === replay.clock.end")


def test_daylight_is_marked_and_measured(page: Any, runs: list[Record]) -> None:
    """At the moment of most daylight the mark says what the table says, in mm."""
    moment = "replay.runs[0].moments.find((m) => m.name === 'most daylight').time"
    settled(page, f"replay.seek({moment})")
    label = page.locator('.pane[data-run="0"] .gap')
    assert label.is_visible()
    shown = int(label.inner_text().split()[0])
    told = page.locator("tr", has_text="most daylight").locator("td").first.inner_text()
    assert shown == pytest.approx(int(told.split()[0]), abs=1)
    assert page.locator('.pane[data-run="0"] .zero.up').count() >= 1
    settled(page, "replay.seek(0)")
    assert label.is_hidden()


def test_a_press_on_a_curve_goes_there(page: Any) -> None:
    box = page.locator("#charts svg").first.bounding_box()
    page.locator("#charts svg").first.click(position={"x": 0.25 * box["width"], "y": 20})
    end = page.evaluate("replay.clock.end")
    assert page.evaluate("replay.clock.time") == pytest.approx(0.25 * end, rel=0.02)


@pytest.mark.parametrize(
    ("viewport", "script"),
    [(PHONE, "replay.seek(2)"), (LAPTOP, "replay.contrast()")],
    ids=["phone", "laptop in high contrast"],
)
def test_axe_finds_nothing(page: Any, viewport: dict[str, int], script: str) -> None:
    page.set_viewport_size(viewport)
    settled(page, script)
    assert violations(page, {"color-contrast", "button-name"}) == []


def test_on_a_phone_one_pane_at_a_time_is_swiped(page: Any) -> None:
    page.set_viewport_size(PHONE)
    settled(page)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    panes = page.locator(".pane")
    assert [panes.nth(k).is_visible() for k in range(2)] == [True, False]
    panes.nth(0).locator(".strip h2").scroll_into_view_if_needed()
    box = panes.nth(0).locator(".strip h2").bounding_box()
    page.mouse.move(box["x"] + box["width"] - 5, box["y"] + 5)
    page.mouse.down()
    page.mouse.move(box["x"] + 5, box["y"] + 5, steps=4)
    page.mouse.up()
    settled(page)
    assert [panes.nth(k).is_visible() for k in range(2)] == [False, True]
    assert plum(picture(page, 1)) > 500
    page.locator('.pane[data-run="1"] .turnpage').first.click()
    assert panes.nth(0).is_visible()


def test_paper_has_stills_and_curves_instead_of_the_stage(page: Any) -> None:
    page.emulate_media(media="print")
    try:
        assert page.locator("#stage").is_hidden() and page.locator("#transport").is_hidden()
        assert page.locator(".sheet img").first.is_visible()
        assert page.locator("#charts svg").first.is_visible()
    finally:
        page.emulate_media(media="screen")
