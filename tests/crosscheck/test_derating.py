"""Limits over stones beside the static answer: what counts as a derating, and two real rows."""

import pytest

from sidehill.crosscheck import derating
from sidehill.crosscheck.derating import Answer, crossings
from sidehill.crosscheck.ladder_words import answer_words, stone_cells
from sidehill.machine.outfit import Outfit
from sidehill.spread.subject import load_subject
from sidehill.strip.limit import Band, Limit


def limit(good: float | None, ended: str | None, *bands: Band) -> Limit:
    return Limit(
        quantity="slope",
        until="overturn",
        highest_good=good,
        lowest_bad=None,
        verdict_at_limit=ended,
        unit="deg",
        tolerance=0.1,
        runs=9,
        bands=bands,
        engine="compiled",
        reference=None,
        reference_agrees=None,
    )


CLEAR = (Band(0.0, 12.04, True), Band(12.1, 20.0, False))
ALTERNATING = (*CLEAR, Band(21.0, 22.0, True))


@pytest.mark.parametrize(
    ("answer", "takes", "words"),
    [
        (Answer(limit(12.04, "overturned", *CLEAR), 20.0), 7.96, "12.0 deg (21 %): -8.0 deg"),
        (Answer(limit(12.04, "wheel_lifted", *CLEAR), 20.0), 7.96, "12.0 deg (21 %): -8.0 deg"),
        (Answer(limit(12.04, "stalled", *CLEAR), 20.0), None, "12.0 deg (21 %): stalled"),
        (Answer(limit(12.04, "not_settled", *CLEAR), 20.0), None, "12.0 deg (21 %): not_settled"),
        (Answer(limit(None, "stalled"), 20.0), None, "none good, not even the level: stalled"),
        (
            Answer(limit(None, "stalled", Band(0.0, 2.0, False), Band(3.0, 9.0, True)), 20.0),
            None,
            "not even the level, though steeper ground is good again (!): stalled",
        ),
        (Answer(limit(12.04, None), 20.0), None, "12.0 deg (21 %): none found up to there"),
        (
            Answer(limit(12.04, "overturned", *ALTERNATING), 20.0),
            7.96,
            "12.0 deg (21 %) (!): -8.0 deg",
        ),
    ],
)
def test_only_tipping_derates(answer: Answer, takes: float | None, words: str) -> None:
    assert answer.derating == (None if takes is None else pytest.approx(takes))
    assert answer_words(answer) == words


def test_a_stone_takes_off_the_static_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(derating, "STONES", (0.05, 0.10))
    monkeypatch.setattr(derating, "SPEEDS", (0.5,))
    seen: list[int] = []
    static = 29.39  # [deg] hawthorn as delivered, lift-off and overturn on the tilt table
    subject = load_subject("hawthorn", Outfit())
    low, high = crossings(subject, static, static, "compiled", lambda done, of: seen.append(done))
    assert (low.stone, high.stone) == (0.05, 0.10)
    assert low.lift.derating is not None
    assert high.lift.derating is not None
    assert 2.0 < low.lift.derating < high.lift.derating
    assert low.overturn.limit.verdict_at_limit == "stalled"  # the open differential gives up
    assert low.overturn_locked.limit.highest_good > low.overturn.limit.highest_good
    assert seen == [1, 2]
    cells = stone_cells((low, high), us=False)
    assert [row[:2] for row in cells["rows"]] == [
        ["1.8 km/h (1.1 mph)", "50 mm (2.0 in)"],
        ["1.8 km/h (1.1 mph)", "100 mm (3.9 in)"],
    ]
    assert low.to_dict()["lift"]["derating_deg"] == low.lift.derating
