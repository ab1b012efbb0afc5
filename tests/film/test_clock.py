"""Film time: never backward, slow where asked, still on daylight, a card at the end."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sidehill.film.clock import (
    APART,
    CARD,
    CAUTION,
    DIFFER,
    FREEZE,
    HOLD,
    OPENING,
    Pace,
    Tempo,
    opened,
    schedule,
    spread,
)

FPS = 30


@given(
    st.floats(0.2, 20.0),
    st.lists(st.floats(0.0, 20.0), max_size=4),
    st.floats(1.0, 8.0),
    st.floats(0.0, 10.0),
)
def test_every_frame_follows_the_one_before(
    end: float, starts: list[float], slow: float, span: float
) -> None:
    freezes = [start for start in spread(starts) if start <= end]
    moments = schedule(end, freezes, Pace(Tempo(slow), (), ((span, span + 1.0),)), FPS)
    times = [moment.time for moment in moments]
    assert times == sorted(times)
    assert times[0] == 0.0 or (freezes and freezes[0] == 0.0)
    assert times[-1] == end
    stages = Counter(moment.stage for moment in moments)
    assert stages["freeze"] == len(freezes) * round(FREEZE * FPS)
    assert stages["hold"] == round(HOLD * FPS)
    assert stages["card"] == round(CARD * FPS)
    assert stages["caution"] == round(CAUTION * FPS)
    before = Counter(m.stage for m in opened(moments, FPS, card=True, differ=True)) - stages
    assert before == {"opening": round(OPENING * FPS), "differ": round(DIFFER * FPS)}
    assert opened(moments, FPS, card=False, differ=False) == moments
    running = sum(1.0 / slow if span <= m.time < span + 1.0 else 1.0 for m in moments
                  if m.stage == "run")  # fmt: skip
    assert running / FPS == pytest.approx(end, abs=2.0 / FPS)


def test_the_speed_that_is_shown_is_the_speed_it_runs_at() -> None:
    moments = [
        m for m in schedule(4.0, [], Pace(Tempo(4.0), (), ((1.0, 2.0),)), FPS) if m.stage == "run"
    ]
    for before, after in pairwise(moments):
        assert after.time - before.time == pytest.approx(before.speed / FPS)
    assert {m.speed for m in moments} == {1.0, 0.25}


@pytest.mark.parametrize("quick", [1.0, 4.0])
def test_where_nothing_happens_it_runs_as_quickly_as_asked(quick: float) -> None:
    run = schedule(12.0, [], Pace(Tempo(quick=quick), ((2.0, 10.0),), ()), FPS)
    speeds = {2.0 <= m.time < 10.0: m.speed for m in run if m.stage == "run"}
    assert speeds == {True: quick, False: 1.0}
    assert sum(m.stage == "run" for m in run) / FPS == pytest.approx(4.0 + 8.0 / quick, abs=0.1)


def test_freezes_close_together_are_one() -> None:
    assert spread([2.0, 1.0, 1.0 + 0.5 * APART]) == [1.0, 2.0]


def test_freezes_are_on_the_record_s_own_time() -> None:
    moments = schedule(3.0, [1.2345], Pace(Tempo(1.0), (), ()), FPS)
    assert {m.time for m in moments if m.stage == "freeze"} == {1.2345}
