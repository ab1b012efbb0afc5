"""What is told while a run plays, of machines that were put where the test wants them."""

from math import radians

import numpy as np
import pytest
from film.posed import case_of, posed

from sidehill.film.pane import build_pane
from sidehill.kernels.layout import OVERTURNED
from sidehill.replay import telling
from sidehill.replay.run import Run, read_run

ROW = 0.01  # [s]


def told(rolls: list[float], downhill: str = "right", **how: float) -> Run:
    case = case_of("bramble", "bank-plain", [f"ground.downhill={downhill}"])
    record = posed(case, rolls, **how)
    return read_run(record, build_pane(record, "run"))


@pytest.mark.parametrize("downhill", ["right", "left"])
def test_a_wheel_that_is_up_for_a_while(downhill: str) -> None:
    """Up from row 20 to row 39 of 60, leaning 4 deg at most: a wheel, a band, a moment, no more."""
    lean = [radians(4.0) * min(k + 1, 20 - k) / 10 for k in range(20)]
    run = told([0.0] * 20 + lean + [0.0] * 20, downhill)
    assert run.facts is not None
    names = {moment.name: moment.time for moment in run.moments}
    assert names["uphill rear wheel up"] == pytest.approx(20 * ROW)
    assert 28 * ROW < names["most daylight"] < 31 * ROW
    assert names["stopped"] == pytest.approx(59 * ROW)
    assert "on its stop" not in names and not any("over" in name for name in names)
    (band,) = telling.bands(run.pane, run.facts)
    assert (band["from"], band["to"]) == pytest.approx(
        (20 * ROW, 40 * ROW)
    )  # to the row that is down again
    assert band["text"] == "uphill rear wheel up"


@pytest.mark.parametrize("downhill", ["right", "left"])
def test_the_stop_counts_on_the_side_that_the_body_rolled_to(downhill: str) -> None:
    run = told([0.0] * 10 + [radians(14.0)] * 20, downhill)
    assert run.facts is not None and run.facts.stability == "on_stop"
    assert any(moment.name == "on its stop" for moment in run.moments)
    badges = telling.badges(run.facts)
    assert [badge["text"] for badge in badges] == ["on stop", "across"]
    assert telling.GOOD not in [badge["tone"] for badge in badges]


def test_one_that_goes_over() -> None:
    """States follow each other: up, on the stop, overturning, then for illustration."""
    rolls = list(np.radians(np.linspace(0.0, 90.0, 90)))
    run = told(rolls, finish=OVERTURNED)
    assert run.facts is not None and run.pane.over is not None
    past = next(moment.time for moment in run.moments if "60 deg" in moment.name)
    assert past == run.pane.over[1]
    states = sorted(telling.states(run.pane, run.facts), key=lambda state: state["from"])
    texts = list(dict.fromkeys(state["text"] for state in states))
    assert texts[-1] == "past 60 deg: for illustration"
    assert texts.index("overturning") == len(texts) - 2
    assert run.facts.daylight[np.degrees(rolls) > 61].max() == 0.0  # not followed any more
    assert telling.figures(run.pane, run.facts)["largest roll to the slope"] == "past 60 deg"


def test_four_loaded_wheels_are_good_only_with_the_course_behind() -> None:
    run = told([0.0] * 30)
    assert run.facts is not None
    assert [badge["tone"] for badge in telling.badges(run.facts)] == [telling.GOOD] * 2
    assert [moment.name for moment in run.moments] == ["stopped"]
    assert telling.figures(run.pane, run.facts)["most daylight under a wheel"] == "none"
