"""Limits over stones beside the static answer: what derates, and what grip is worth."""

from math import radians

import pytest

from sidehill.crosscheck import derating
from sidehill.crosscheck.derating import DRIVES, Answer, Crossing, crossings, drives
from sidehill.crosscheck.ladder_words import answer_words, stone_cells
from sidehill.machine.outfit import Outfit
from sidehill.spread.subject import load_subject
from sidehill.strip.limits import Limit

STUCK = "stopped: uphill rear wheel spinning"


def limit(good, bad, unknown=None, again=()) -> Limit:
    def to_si(value):
        return None if value is None else radians(value)

    ranges = tuple((radians(low), radians(high)) for low, high in again)
    return Limit("lifted", to_si(good), to_si(bad), to_si(unknown), ranges, radians(35.0))


@pytest.mark.parametrize(
    ("found", "ending", "takes", "words"),
    [
        (limit(12.04, 12.1), "lifts", 7.96, "12.0 deg (21 %): -8.0 deg"),
        (limit(12.04, None, 12.1), STUCK, None, f"12.0 deg (21 %): {STUCK}"),
        (limit(12.04, 20.0, 12.1), STUCK, None, f"12.0 deg (21 %): {STUCK}"),
        (limit(None, None, 1.0), STUCK, None, f"none good, not even the lowest tried: {STUCK}"),
        (
            limit(None, 1.0, None, ((3.0, 9.0),)),
            "lifts",
            None,
            "no limit, not even the lowest tried, though steeper is good (!): lifts",
        ),
        (limit(12.04, None), "", None, "12.0 deg (21 %): none found up to there"),
        (
            limit(12.04, 12.1, None, ((21.0, 22.0),)),
            "lifts",
            7.96,
            "12.0 deg (21 %) (!): -8.0 deg",
        ),
    ],
)
def test_only_the_event_itself_derates(found, ending, takes, words) -> None:
    answer = Answer(found, ending, 20.0)
    assert answer.derating == (None if takes is None else pytest.approx(takes))
    assert answer_words(answer) == words


def test_a_question_without_a_static_answer_derates_nothing() -> None:
    answer = Answer(limit(12.04, 12.1), "it slides off its path", None)
    assert answer.derating is None
    assert answer_words(answer) == "12.0 deg (21 %): it slides off its path"


def test_a_machine_without_a_front_drive_has_no_row_of_it() -> None:
    subject = load_subject("bramble", Outfit())
    assert drives(subject) == tuple(DRIVES)
    machine = subject.machine.with_values({"drive.driven": "rear"})
    rear = type(subject)(machine, subject.outfit, {})
    assert drives(rear) == tuple(name for name in DRIVES if not name.startswith("front drive"))


@pytest.fixture(scope="module")
def over() -> dict[str, Crossing]:
    """Hawthorn as delivered over a stone of 100 mm, creeping, by each drive."""
    static = 29.39  # [deg] its lift-off and overturn on the tilt table
    seen: list[int] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(derating, "STONES", (0.10,))
        patch.setattr(derating, "SPEEDS", (0.5,))
        subject = load_subject("hawthorn", Outfit())
        rows = crossings(subject, static, static, "compiled", lambda done, of: seen.append(done))
    assert seen == list(range(1, len(rows) + 1))
    return {row.drive: row for row in rows}


def test_the_open_rear_drive_ends_for_want_of_grip_and_a_push_does_not(over) -> None:
    ends = {name: row.answers["not_across"] for name, row in over.items()}
    assert ends["rear drive, open"].ending == STUCK
    assert "spinning" not in ends["pushed"].ending
    good = {name: answer.limit.good_up_to for name, answer in ends.items()}
    assert good["rear drive, open"] < min(good[name] for name in good if name != "rear drive, open")


def test_the_stone_takes_off_the_static_answer_and_is_told(over) -> None:
    pushed = over["pushed"].answers["lifted"]
    assert pushed.derating is not None and pushed.derating > 2.0
    cells = stone_cells(tuple(over.values()), us=False)
    assert [row[2] for row in cells["rows"]] == list(DRIVES)
    assert {tuple(row[:2]) for row in cells["rows"]} == {("1.8 km/h (1.1 mph)", "100 mm (3.9 in)")}
    assert over["pushed"].to_dict()["lifted"]["derating_deg"] == pushed.derating
