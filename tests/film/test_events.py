"""What a film stops for, and the camera that sees it."""

from math import radians

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.choose import SIDE, choose, gap_of, project, visible
from sidehill.film.clock import FREEZE, Moment, Tempo
from sidehill.film.events import LEAST, SEEN, lowest
from sidehill.film.pane import Pane, build_pane, camera_at, extent_of
from sidehill.film.render.camera import VIEWS, stand_of
from sidehill.film.render.draw import picture, sighted
from sidehill.film.show import build_show
from sidehill.film.speech import status
from sidehill.film.words import built_in
from sidehill.machine.linkage import WHEELS
from sidehill.replay import telling
from sidehill.replay.run import read_run

WIDE, HIGH = 640, 360
CORNER = 0.015  # [m] by which a tilted tyre reaches lower than the line it is posed about


def rolling(degrees: float, downhill: str = "right") -> Pane:
    """A machine whose body rolls over by so much in a third of a second."""
    case = case_of("bramble", "bank-plain", [f"ground.downhill={downhill}"])
    rolls = list(np.radians(np.linspace(0.0, degrees, 33)))
    return build_pane(posed(case, rolls), "x")


@pytest.mark.parametrize("downhill", ["right", "left"])
def test_daylight_is_under_the_uphill_rear_wheel(downhill: str) -> None:
    pane = rolling(9.0, downhill)
    assert pane.daylight is not None and pane.scene is not None
    assert WHEELS[pane.daylight.wheel] == f"rear_{'left' if downhill == 'right' else 'right'}"
    assert SEEN <= pane.daylight.gap < SEEN + 0.02
    before = pane.daylight.time - 0.011
    assert lowest(pane.scene, pane.daylight.wheel, before)[1] < SEEN


def test_a_gap_too_small_to_see_is_no_daylight() -> None:
    """The tyre is drawn pressed flat by 20 mm, so 1.5 deg of roll only takes that back."""
    assert rolling(1.5).daylight is None
    assert LEAST < SEEN


def test_the_film_stands_still_on_daylight() -> None:
    case = case_of("bramble", "bank-plain")
    record = posed(case, list(np.radians(np.linspace(0.0, 9.0, 33))))
    show = build_show([record], ["x"], (480, 270), 30, "auto", Tempo(), "", built_in())
    frozen = [moment for moment in show.moments if moment.stage == "freeze"]
    assert len(frozen) == round(FREEZE * 30)
    assert show.panes[0].daylight is not None
    assert {moment.time for moment in frozen} == {show.panes[0].daylight.time}
    slow = [m for m in show.moments if m.stage == "run" and m.speed == 0.25]
    assert len(slow) > 30


@pytest.mark.parametrize("downhill", ["right", "left"])
def test_the_chosen_camera_sees_the_gap(downhill: str) -> None:
    pane = rolling(9.0, downhill)
    extent = extent_of([pane])
    seen = {
        name: visible(pane, stand_of(view, extent, WIDE, HIGH), round(SIDE * WIDE / HIGH))
        for name, view in VIEWS.items()
    }
    chosen = choose([pane], extent, WIDE, HIGH)
    assert seen[chosen] > 5.0  # [samples] of the gap's height, nothing before it
    assert seen[chosen] >= 0.9 * max(seen.values())
    assert min(seen.values()) < 0.5 * seen[chosen]


@pytest.mark.parametrize("view", ["low", "uphill"])
def test_daylight_is_lighter_than_the_tyre_above_it(view: str) -> None:
    """Grass shows in the gap: at least half as light again as the tread above it."""
    pane, time = rolling(9.0), 0.32
    assert pane.scene is not None
    camera = camera_at(pane, time, stand_of(VIEWS[view], extent_of([pane]), WIDE, HIGH))
    light = picture(pane.scene, time, camera, WIDE, HIGH).mean(axis=2)
    top, foot = gap_of(pane, time)
    gap = top[2] - foot[2]
    assert gap > 0.1
    board = sighted(pane.scene, time, camera, WIDE, HIGH)
    heights = [0.4 * gap, gap + 0.06]  # [m] in the gap, and on the tread
    spots = project(foot + np.outer(heights, [0.0, 0.0, 1.0]), camera.look, board) / 2
    (x, y), (u, v) = spots[:, :2].astype(int)
    assert (
        light[y - 1 : y + 2, x - 2 : x + 3].mean()
        > 1.5 * light[v - 1 : v + 2, u - 2 : u + 3].mean()
    )


def test_an_overturn_is_slow_until_it_is_past_return() -> None:
    case = case_of("bramble", "bank-plain")
    rolls = list(np.radians(np.linspace(0.0, 90.0, 91)))
    pane = build_pane(posed(case, rolls), "x")
    assert pane.over is not None
    start, end = pane.over
    assert pane.scene is not None
    assert abs(float(pane.scene.take.at(pane.scene.take.roll, start))) > radians(25.0)
    assert abs(float(pane.scene.take.at(pane.scene.take.roll, end))) >= radians(60.0) - 1e-9
    assert rolling(40.0).over is None


@pytest.mark.parametrize("downhill", ["right", "left"])
@pytest.mark.parametrize("swing", [None, "4 deg", "0 deg"])
def test_film_and_replay_say_at_the_same_times_that_it_hangs_on_its_stop(
    swing: str | None, downhill: str
) -> None:
    """Row by row, judged by loads and pin: with a rear wheel up, the pin at its stop that way."""
    outfit: dict[str, object] = {} if swing is None else {"front_axle_swing": swing}
    case = case_of("bramble", "bank-plain", [f"ground.downhill={downhill}"], outfit)
    record = posed(case, list(np.radians(np.linspace(-2.0, 20.0, 89))))
    pane = build_pane(record, "x")
    stop, columns, times = np.degrees(pane.swing), record.columns, record.columns["t_s"]
    rear, front, away = {
        "right": ("rear_left", "front_left", -1.0),
        "left": ("rear_right", "front_right", 1.0),
    }[downhill]
    hangs = (columns[f"load_{rear}_n"] == 0.0) & (away * columns["pin_deg"] >= stop - 0.1)
    hangs &= (columns[f"load_{front}_n"] == 0.0) | (stop > 0.0)
    assert 0.2 < hangs.mean() < 0.9
    words, run = built_in(), read_run(record, pane)
    assert run.facts is not None
    text = words.say("on_the_stop")
    told = [state for state in telling.states(pane, run.facts) if state["text"] == text]
    for time, expected in zip(times[:-1], hangs[:-1], strict=True):
        filmed = [line for line, _ in status(pane, Moment(float(time), 1.0, "run"), words)]
        assert (text in filmed) == expected
        assert any(state["from"] <= time <= state["to"] for state in told) == expected


def test_an_axle_twisted_onto_its_other_stop_is_not_hanging() -> None:
    case = case_of("bramble", "bank-plain")
    record = posed(case, list(np.radians(np.linspace(0.0, 20.0, 41))))
    assert build_pane(record, "x").on_stop
    record.columns["pin_deg"] = -record.columns["pin_deg"]
    assert build_pane(record, "x").on_stop == ()


def test_daylight_is_what_the_run_measured_and_what_is_drawn() -> None:
    """The first row that shows as much as is said; where the drawn wheel is nearest to the ground
    the picture has it too, but for the tread's corner."""
    pane = rolling(9.0, "left")
    assert pane.scene is not None and pane.daylight is not None
    take, light = pane.scene.take, pane.daylight
    gaps = dict(zip(take.times, take.gaps[:, light.wheel], strict=True))
    assert gaps[light.time] == light.gap
    drawn = lowest(pane.scene, light.wheel, light.time)[1]
    assert drawn == pytest.approx(light.gap, abs=CORNER)
    assert all(gap < SEEN for time, gap in gaps.items() if light.since <= time < light.time)
